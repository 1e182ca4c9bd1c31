// A dark line round the body, of which each pixel shows its share.
uniform vec2 uSeam;               // its z on the body, low and high; equal for none
const float IN_SEAM = 0.03;       // of the paint's light that is left in it: by eye

// What is left of the light at height z where a pixel sees `tall` mm of an upright wall.
float beside_seam(float z, float tall) {
    float within = min(z + 0.5 * tall, uSeam.y) - max(z - 0.5 * tall, uSeam.x);
    return mix(1.0, IN_SEAM, clamp(within / tall, 0.0, 1.0));
}
