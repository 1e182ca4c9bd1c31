// The walls of the box: what they scatter and mirror.
#if WALLS
uniform vec3 uWallCentre[WALLS];
uniform vec3 uWallRight[WALLS];   // half extents
uniform vec3 uWallUp[WALLS];
uniform vec3 uWallOut[WALLS];     // unit normal
uniform vec3 uWallLight[WALLS];   // radiance of what it scatters
uniform vec4 uWallShine[WALLS];   // what it mirrors, seen straight; slope width of its lobe

const float FOOT_SHADE = 0.6;     // light that is left on a wall at a part's foot: by eye

// The wall that a mirror ray meets from a part that stands on it, and how surely.
vec4 wall_beside(vec3 p, vec3 r, float w) {
    vec4 found = vec4(0.0);
    for (int i = 0; i < WALLS; ++i) {
        float high = dot(p - uWallCentre[i], uWallOut[i]), falls = -dot(r, uWallOut[i]);
        for (int once = 0; once < int(high > 0.0 && falls > 0.0); ++once) {
            vec3 at = p + r * (high / max(falls, 0.05 + 0.5 * w)), from = at - uWallCentre[i];
            vec2 aside = abs(vec2(dot(from, uWallRight[i]), dot(from, uWallUp[i])));
            bool is_on = aside.x < dot(uWallRight[i], uWallRight[i]) && aside.y < dot(uWallUp[i], uWallUp[i]);
            float slant = 1.0 - falls, slant2 = slant * slant;
            vec3 shine = uWallShine[i].rgb + (1.0 - uWallShine[i].rgb) * slant2 * slant2 * slant;
            vec3 away = r + 2.0 * falls * uWallOut[i];
            vec3 room_there = studio(at, uWallOut[i], away, w + uWallShine[i].a, vec4(0.0));
            float left = mix(FOOT_SHADE, 1.0, smoothstep(0.0, 12.0, high));
            found = is_on ? vec4(uWallLight[i] * left + shine * room_there, 1.0) : found;
        }
    }
    return found;
}
#endif
