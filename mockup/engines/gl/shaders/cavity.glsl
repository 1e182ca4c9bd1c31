// Holes that one looks into, as a jack's: light and mirrored rays go in and out by the mouth alone.
#if CAVITIES
const float INNER = 0.15;          // what one wall of a hole mirrors of another, of the light at its mouth: by eye
uniform int uCavities;
uniform vec4 uCavity[CAVITIES];     // middle of the mouth, radius
uniform vec4 uCavityWay[CAVITIES];  // unit vector out of it, depth
#endif

// Shares that get through at p, 1 outside of every hole: of light that falls on normal n, and of a mirror
// lobe of slope width w about r.
vec2 through_mouth(vec3 p, vec3 n, vec3 r, float w) {
    vec2 open = vec2(1.0);
#if CAVITIES
    for (int i = 0; i < uCavities; ++i) {
        vec3 from = p - uCavity[i].xyz, way = uCavityWay[i].xyz;
        float radius = uCavity[i].w, deep = -dot(from, way);
        vec3 across = from + deep * way;
        bool within = deep > 0.0 && deep < uCavityWay[i].w && length(across) < radius + 0.06;
        // form factor of the mouth: from a cylinder's wall, from its floor (Howell, catalogue of configuration factors)
        float x = 0.5 * deep / radius, facing = dot(n, way);
        float wall = (x * x + 0.5) * inversesqrt(x * x + 1.0) - x, base = 1.0 / (1.0 + 4.0 * x * x);
        float light = facing > 0.0 ? mix(wall, base, facing) : wall * (1.0 + facing);
        float rise = dot(r, way), t = deep / max(rise, 0.02);
        float beside = length(across + t * (r - rise * way)) - radius;
        float leaves = clamp(0.5 - 0.5 * beside / (w * t + 0.05), 0.0, 1.0);
        open = within ? min(open, vec2(light, mix(INNER * wall, 1.0, leaves))) : open;
    }
#endif
    return open;
}
