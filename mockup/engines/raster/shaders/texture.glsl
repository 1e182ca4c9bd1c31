// Grain of the finish, from position on the body: hammered bumps and metallic flake.
float hash(vec3 p) {
    p = fract(p * vec3(0.1031, 0.1030, 0.0973));
    p += dot(p, p.yzx + 33.33);
    return fract((p.x + p.y) * p.z);
}

// Hammered paint: dents about 1.6 mm apart. Bare position noise, differentiated by hand.
float dents(vec3 p) {
    vec3 cell = floor(p), f = p - cell;
    float nearest = 2.0;
    for (int x = -1; x <= 1; ++x) for (int y = -1; y <= 1; ++y) for (int z = -1; z <= 1; ++z) {
        vec3 o = vec3(x, y, z);
        vec3 c = cell + o;
        vec3 d = o + vec3(hash(c), hash(c + 17.3), hash(c + 41.7)) * 0.8 - f;
        nearest = min(nearest, dot(d, d));
    }
    return min(nearest, 1.0);
}

vec3 grained(vec3 n, vec3 body, float hammer) {
#if GRAINED
    if (hammer > 0.0) {
        vec3 q = body / 1.6;
        float h = dents(q), e = 0.06;
        vec3 slope = vec3(dents(q + vec3(e, 0, 0)) - h, dents(q + vec3(0, e, 0)) - h, dents(q + vec3(0, 0, e)) - h) / e;
        slope -= n * dot(slope, n);
        return normalize(n - 0.10 * hammer * slope);
    }
#endif
    return n;
}

// Metallic flake: tiny mirrors, each tilted its own way; brighter where one faces the light.
vec3 sparkle(vec3 body, vec3 n, vec3 v, vec4 grain) {
#if GRAINED
    if (grain.y > 0.0) {
        float size = max(0.18, 0.7 * grain.w);
        float s = hash(floor(body / size) + 7.7);
        return vec3(1.0 + grain.y * (5.0 * pow(s, 12.0) - 0.35));
    }
#endif
    return vec3(1.0);
}
