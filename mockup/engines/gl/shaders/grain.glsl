// Grain of the finish, from position on the body: hammered bumps and metallic flake.
uniform vec2 uGrainSize;          // mm: from dent to dent, width of a flake
uniform vec4 uFlakeGrid[6];       // of the surfaces that face each way along x, y, z: corner and cell of their grid (mm)
uniform float uFlakeLayer[6];     // and which layer of cells they are, along the third axis
uniform int uFlakeWay;            // the one way of a face that has a picture; -1: each piece of surface its own
uniform vec2 uFlakeShift;         // pixels from this pass's look to the flake that it shows
uniform vec3 uFlakeFace[2];       // the way from that face's u, v and 1 to the grid's two coordinates (mm)

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

// Metallic flake: tiny mirrors, each tilted its own way, on the grid of `appearance/grain.py`. Returns this one's
// slopes along the grid's first axis and across it, -1 to 1, and how much of its glint a pixel shows: where many
// flakes share a pixel, their mean is the paint's broad lobe. `axis` is the grid's first.
vec3 flake(vec3 body, vec2 uv, float pixel_mm, out vec3 axis) {
    vec3 facing = cross(dFdx(body), dFdy(body)), size = abs(facing);
    int third = size.x >= size.y && size.x >= size.z ? 0 : size.y >= size.z ? 1 : 2;
    third = uFlakeWay < 0 ? third : uFlakeWay / 2;
    body += dFdx(body) * uFlakeShift.x + dFdy(body) * uFlakeShift.y;
    uv += dFdx(uv) * uFlakeShift.x + dFdy(uv) * uFlakeShift.y;
    float up = third == 0 ? facing.x : third == 1 ? facing.y : facing.z;
    int way = uFlakeWay < 0 ? 2 * third + int(up > 0.0) : uFlakeWay;
    axis = third == 0 ? vec3(0.0, 1.0, 0.0) : vec3(1.0, 0.0, 0.0);
    vec2 at = third == 0 ? body.yz : third == 1 ? body.xz : body.xy;
    vec3 face = vec3(uv, 1.0);
    at = uFlakeWay < 0 ? at : vec2(dot(uFlakeFace[0], face), dot(uFlakeFace[1], face));
    vec4 grid = uFlakeGrid[way];
    // one seen as a pixel is wide at the least: the nearest of them
    vec2 cell = grid.zw * max(ceil(1.3 * pixel_mm / uGrainSize.y - 0.3), 1.0);
    vec2 c = floor((grid.xy + (floor((at - grid.xy) / cell) + 0.5) * cell) / uGrainSize.y);
    float layer = uFlakeLayer[way];
    vec3 place = third == 0 ? vec3(layer, c) : third == 1 ? vec3(c.x, layer, c.y) : vec3(c, layer);
    return vec3(2.0 * vec2(hash(place + 7.7), hash(place + 31.1)) - 1.0, grid.z / cell.x);
}
