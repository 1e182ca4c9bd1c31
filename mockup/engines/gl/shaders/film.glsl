// Film on the face: where it lies, and its edge, which catches light as a thin line.
#if FILMS
uniform vec4 uFilm[FILMS];        // centre u, v; half width, half height (mm)
uniform vec2 uFilmTurn[FILMS];    // cosine, sine of its turn
uniform float uFilmOpacity[FILMS]; // how much it hides of what glitters below it
uniform vec3 uFilmKind;           // roughness, slope of its edge, width of its edge (mm)

// Share of the pixel under film; hidden: of the paint below; edge: which way it falls, in u and v, and its share.
float film_at(vec2 uv, out vec3 edge, out float hidden) {
    float open = 1.0, clear = 1.0;
    edge = vec3(0.0);
    for (int i = 0; i < FILMS; ++i) {
        vec2 along = uFilmTurn[i], from = uv - uFilm[i].xy;
        vec2 q = vec2(dot(from, along), dot(from, vec2(-along.y, along.x)));
        vec2 foot = max(abs(dFdx(q)) + abs(dFdy(q)), vec2(1e-5));
        vec2 deep = uFilm[i].zw - abs(q);
        vec2 over = clamp(deep / foot + 0.5, 0.0, 1.0);
        vec2 run = vec2(0.5 * uFilmKind.z);
        vec2 band = clamp((min(deep + 0.5 * foot, run) - max(deep - 0.5 * foot, -run)) / foot, 0.0, 1.0) * over.yx;
        vec2 falls = band * sign(q);
        edge += vec3(along * falls.x + vec2(-along.y, along.x) * falls.y, max(band.x, band.y));
        open *= 1.0 - over.x * over.y;
        clear *= 1.0 - over.x * over.y * uFilmOpacity[i];
    }
    edge = vec3(edge.xy / max(length(edge.xy), 1e-6), min(edge.z, 1.0));
    hidden = 1.0 - clear;
    return 1.0 - open;
}
#endif
