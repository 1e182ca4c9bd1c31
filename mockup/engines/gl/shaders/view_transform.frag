// The view transform: what colour/view.py does, then over a plain ground where nothing is, or with straight alpha.
in vec2 vScreen;
out vec4 colour;
uniform sampler2D uPass;
uniform float uGain;      // shares of passes that are not in yet
uniform float uRolled;    // 1 for a photo, 0 for a proof
uniform float uShoulder;
uniform float uHasHalo;
uniform sampler2D uHalo;  // row 0 at the top
uniform vec2 uHaloPlace;  // cells per picture width and height
uniform float uOpaque;    // 1 over the ground, 0 with alpha
uniform vec3 uBehind;     // encoded; behind what is transparent

vec3 encoded(vec3 linear) {  // IEC 61966-2-1:1999 5.2
    vec3 curve = 1.055 * pow(max(linear, vec3(0.0031308)), vec3(1.0 / 2.4)) - 0.055;
    return mix(curve, 12.92 * linear, vec3(lessThanEqual(linear, vec3(0.0031308))));
}

void main() {
    vec2 size = vec2(textureSize(uPass, 0)), pixel = floor(vScreen * size);
    bool is_whole = all(lessThan(abs(vScreen * size - pixel - 0.5), vec2(0.01)));  // else a trace of a neighbour comes in
    vec4 seen = (is_whole ? texelFetch(uPass, ivec2(pixel), 0) : texture(uPass, vScreen)) * uGain;
    if (uHasHalo > 0.5) {
        float before = max(max(seen.r, seen.g), seen.b);
        vec2 cells = vec2(textureSize(uHalo, 0));
        seen.rgb += texture(uHalo, vec2(vScreen.x, 1.0 - vScreen.y) * uHaloPlace / cells).rgb;
        if (seen.a < 1.0) seen.a = max(seen.a, clamp(max(max(seen.r, seen.g), seen.b) - before, 0.0, 1.0));
    }
    float alpha = clamp(seen.a, 0.0, 1.0);
    vec3 linear = min(max(seen.rgb, vec3(0.0)), vec3(1e4));  // what is no number comes out black
    if (alpha > 0.0 && alpha < 1.0) linear /= alpha;
    float peak = max(max(linear.r, linear.g), linear.b);
    if (uRolled > 0.5 && peak > uShoulder) {
        float room = (1.0 - uShoulder) * (1.0 - uShoulder);
        linear *= (1.0 - room / (peak + 1.0 - 2.0 * uShoulder)) / peak;
    }
    vec3 shown = encoded(min(linear, vec3(1.0)));
    if (uRolled > 0.5) {   // between two codes pixels take turns: _shares of colour/view.py
        vec2 at = vec2(pixel.x, size.y - 1.0 - pixel.y);
        shown += (0.75 * fract(52.9829189 * fract(dot(at, vec2(0.06711056, 0.00583715)))) - 0.375) / 255.0;
    }
    colour = uOpaque > 0.5 ? vec4(mix(uBehind, shown, alpha), 1.0) : vec4(alpha > 0.5 / 255.0 ? shown : vec3(0.0), alpha);
}
