// The surface's own colour: its picture where there is one, else its base colour.
uniform vec3 uBase;
uniform vec4 uPicturePlace;   // u, v of the top-left corner; 1 / width, 1 / height (mm)
uniform float uSharper;       // texture level bias: several passes share the filtering
#if HAS_PICTURE
uniform sampler2D uPicture;
#endif

vec3 own_colour(vec2 uv) {
#if HAS_PICTURE
    vec2 at = (uv - uPicturePlace.xy) * uPicturePlace.zw;
    vec3 shown = texture(uPicture, at, uSharper).rgb;
    bool inside = all(greaterThanEqual(at, vec2(0.0))) && all(lessThanEqual(at, vec2(1.0)));
    return inside ? shown : uBase;
#else
    return uBase;
#endif
}
