// The surface's own colour: its picture where there is one, else its base colour.
uniform vec3 uBase;
uniform vec4 uPicturePlace;   // u, v of the top-left corner; 1 / width, 1 / height (mm)
uniform vec2 uPictureTaps;    // reads along a slanted texel in this pass; how many such steps all passes make
uniform float uSharper;       // texture level bias: several passes share the filtering
#if HAS_PICTURE
uniform sampler2D uPicture;
#endif

// Anisotropic filter of our own: the level follows the short side of the pixel's footprint, and reads
// along its long side (in this pass and over the passes' jitter) fill the rest. Graphics drivers
// differ here, and one common software driver smears flat patches; this is the same everywhere.
vec3 own_colour(vec2 uv) {
#if HAS_PICTURE
    vec2 at = (uv - uPicturePlace.xy) * uPicturePlace.zw;
    vec2 size = vec2(textureSize(uPicture, 0));
    vec2 right = dFdx(at), down = dFdy(at);
    vec2 r = right * size, d = down * size;
    float wide = length(r), high = length(d), longer = max(max(wide, high), 1e-6);
    float shorter = abs(r.x * d.y - r.y * d.x) / longer;
    vec2 way = wide > high ? right : down;
    float level = log2(max(shorter, longer / (uPictureTaps.x * uPictureTaps.y)) + 1e-6) + uSharper;
    int reads = int(clamp(ceil(longer / max(shorter, 1e-6) - 0.01), 1.0, uPictureTaps.x));
    vec3 sum = vec3(0.0);
    for (int k = 0; k < reads; ++k)
        sum += textureLod(uPicture, at + way * ((float(k) + 0.5) / float(reads) - 0.5), max(level, 0.0)).rgb;
    bool inside = all(greaterThanEqual(at, vec2(0.0))) && all(lessThanEqual(at, vec2(1.0)));
    return inside ? sum / float(reads) : uBase;
#else
    return uBase;
#endif
}
