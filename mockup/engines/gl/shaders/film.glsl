// Film on the face: where it lies, what it hides, and its edge, which catches light as a thin line.
#if FILMED
uniform sampler2D uFilm;          // mm within any film, within the film whose edge is nearest; hidden; mirrored by air
uniform vec4 uFilmPlace;          // u, v of the top-left corner; 1 / width, 1 / height (mm)
uniform vec3 uFilmKind;           // roughness, slope of its edge, width of its edge (mm)

// Share of the pixel under film; below: what it hides of the paint, and what air under it mirrors;
// edge: which way it falls, in u and v, and its share.
float film_at(vec2 uv, out vec3 edge, out vec2 below) {
    vec2 at = (uv - uFilmPlace.xy) * uFilmPlace.zw, texel = 1.0 / vec2(textureSize(uFilm, 0));
    vec2 right = dFdx(uv), down = dFdy(uv);
    below = texture(uFilm, at).zw;
    vec2 inside = textureLod(uFilm, at, 0.0).xy;
    float wide = 0.7 * (length(right) + length(down));
    edge = vec3(0.0);
    for (int once = 0; once < int(abs(inside.y) < wide + 0.5 * uFilmKind.z); ++once) {
        vec2 way = vec2(textureLod(uFilm, at - vec2(texel.x, 0.0), 0.0).y - textureLod(uFilm, at + vec2(texel.x, 0.0), 0.0).y,
                        textureLod(uFilm, at - vec2(0.0, texel.y), 0.0).y - textureLod(uFilm, at + vec2(0.0, texel.y), 0.0).y);
        way *= texel.yx * uFilmPlace.wz;      // its pixels need not be square
        way /= max(length(way), 1e-6);
        wide = max(abs(dot(way, right)) + abs(dot(way, down)), 1e-5);
        float run = 0.5 * uFilmKind.z;
        edge = vec3(way, clamp((min(inside.y + 0.5 * wide, run) - max(inside.y - 0.5 * wide, -run)) / wide, 0.0, 1.0));
    }
    float over = clamp(inside.x / wide + 0.5, 0.0, 1.0);
    below *= over;
    return over;
}
#endif
