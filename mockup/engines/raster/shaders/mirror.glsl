// The pedal in its own mirrors: a picture of it from straight above, with heights.
uniform sampler2D uAbove;         // radiance, height (mm; far below where there is nothing)
uniform mat4 uAboveMat;           // world to its 0..1
uniform vec3 uAboveSize;          // width of it (mm), texel (mm), highest point (mm)

#if STEPS
// Follow r over the height picture; returns radiance and how surely it hits.
vec4 strike(vec3 p, vec3 r, float w) {
    float top = uAboveSize.z;
    if (p.z > top + 0.5) return vec4(0.0);
    vec2 at = (uAboveMat * vec4(p, 1.0)).xy;
    float here = textureLod(uAbove, at, 0.0).a;
    if (p.z < here - 1.5) return vec4(0.0);        // under an overhang or on a side wall: not seen from above
    float reach = 45.0;
    if (r.z > 0.0) reach = min(reach, (top + 0.2 - p.z) / max(r.z, 1e-3));
    float before = 0.0;
    for (int k = 1; k <= STEPS; ++k) {
        float x = float(k) / float(STEPS);
        float t = reach * x * x + 0.4;
        vec3 q = p + r * t;
        vec2 uv = (uAboveMat * vec4(q, 1.0)).xy;
        float h = textureLod(uAbove, uv, 0.0).a;
        if (q.z < h) {
            // halve the last step to find the edge
            float a = before, b = t;
            for (int m = 0; m < 3; ++m) {
                float mid = 0.5 * (a + b);
                vec3 qm = p + r * mid;
                if (qm.z < textureLod(uAbove, (uAboveMat * vec4(qm, 1.0)).xy, 0.0).a) b = mid; else a = mid;
            }
            vec3 hit = p + r * b;
            vec2 there = (uAboveMat * vec4(hit, 1.0)).xy;
            float level = log2(max(1.5 * w * b / uAboveSize.y, 1.0));
            vec4 seen = textureLod(uAbove, there, level);
            return vec4(seen.rgb, 1.0 - smoothstep(0.25, 0.9, w));
        }
        before = t;
    }
    return vec4(0.0);
}
#endif

vec3 mirror(vec3 p, vec3 r, float w, float closed) {
    vec3 far = studio(p, r, w) * closed;
#if STEPS
    vec4 near = strike(p, r, w);
    return mix(far, near.rgb, near.a);
#else
    return far;
#endif
}

// Radiance of what lies below a surface: the panel where there is one, else the ground.
vec3 below(vec3 p, vec3 n, float w) {
    vec3 down = uHorizon;
    float h = max(p.z - uGroundZ, 1.0);
    if (uHasGround > 0.5) down = floor_radiance(p.xy + n.xy * h, h);
#if STEPS
    vec2 at = (uAboveMat * vec4(p + n * 2.0, 1.0)).xy;
    if (n.z < 0.98 && all(greaterThan(at, vec2(0.0))) && all(lessThan(at, vec2(1.0)))) {
        vec4 panel = textureLod(uAbove, at, 3.0);
        float on = smoothstep(-3.0, -0.5, p.z + 1.0 - textureLod(uAbove, at, 0.0).a) * step(-50.0, panel.a);
        down = mix(down, panel.rgb, on);
    }
#endif
    return down;
}
