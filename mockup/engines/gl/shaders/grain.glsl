// Grain of the finish, from position on the body: hammered bumps and metallic flake.
uniform vec2 uGrainSize;          // mm: from dent to dent, width of a flake

float hash(vec3 p) {
    p = fract(p * vec3(0.1031, 0.1030, 0.0973));
    p += dot(p, p.yzx + 33.33);
    return fract((p.x + p.y) * p.z);
}

const float BRIM = 12.0;          // how sharp the brims are: by eye; appearance/grain.py holds the same
// Hammered paint: round dents; paint flows, so their brims are round too. Returns the
// slope of the height: squared distances to the dents' middles, the least one gone into the next softly.
vec3 dents(vec3 p) {
    vec3 cell = floor(p), f = p - cell, slope = vec3(0.0);
    float total = exp(-BRIM);
    for (int x = -1; x <= 1; ++x) for (int y = -1; y <= 1; ++y) for (int z = -1; z <= 1; ++z) {
        vec3 o = vec3(x, y, z);
        vec3 c = cell + o;
        vec3 d = o + vec3(hash(c), hash(c + 17.3), hash(c + 41.7)) * 0.8 - f;
        float weight = exp(-BRIM * dot(d, d));
        slope -= 2.0 * weight * d;
        total += weight;
    }
    return slope / total;
}

// Share of the dents that a pixel still resolves; what it does not, its highlights are wider by.
float dented(float pixel_mm) { return 1.0 / (1.0 + pow(pixel_mm / (0.25 * uGrainSize.x), 4.0)); }

vec3 grained(vec3 n, vec3 body, float hammer) {
#if GRAINED
    if (hammer > 0.0) {
        vec3 slope = dents(body / uGrainSize.x);
        slope -= n * dot(slope, n);
        return normalize(n - 0.10 * hammer * slope);
    }
#endif
    return n;
}

// Metallic flake: tiny mirrors, each tilted its own way. Returns this one's tilt, -1 to 1, and how much
// of its glint a pixel shows: where many flakes share a pixel, their mean is the paint's broad lobe.
vec4 flake(vec3 body, float pixel_mm) {
    float size = uGrainSize.y, cell = max(size, 1.3 * pixel_mm);
    vec3 c = floor(body / cell);
    return vec4(2.0 * vec3(hash(c + 7.7), hash(c + 31.1), hash(c + 53.9)) - 1.0, size / cell);
}
