// The studio: the room's light, soft boxes in closed form, what mirrors see.
// Everywhere "light" means irradiance / pi, so reflectance times light is radiance.

uniform vec3 uSurround;
uniform vec3 uHorizon;
uniform float uHasGround;
uniform float uGroundZ;
uniform vec3 uBackdrop;          // as radiance: the preset's colour over its exposure
uniform vec2 uFade;              // the ground fades into the backdrop between these radii (mm)
uniform sampler2D uFloor;        // radiance of the ground round the origin
uniform float uFloorHalf;        // half the width it covers (mm)
uniform float uFloorTexel;       // mm
uniform vec4 uCard;              // a dark card on the ground: least x and y, greatest (mm)
uniform vec3 uCardShare;         // what it sends back of what the ground does
#if BOXES
uniform vec3 uBoxCentre[BOXES];
uniform vec3 uBoxRight[BOXES];   // half extents
uniform vec3 uBoxUp[BOXES];
uniform vec3 uBoxFacing[BOXES];  // unit, the way it shines
uniform vec3 uBoxLight[BOXES];     // its mean
uniform float uBoxFade[BOXES];     // share that its radiance falls by from the lower edge to the upper
float box_seen[BOXES];           // how much of each a rough mirror sees from here: the surface that is drawn sets it
#endif

const float PI = 3.14159265;

// Radiance of the empty room above the horizon.
vec3 room(float z) { return mix(uHorizon, uSurround, clamp(z, 0.0, 1.0)); }

// Light of the upper room on a normal of height z (closed form, see geometry/irradiance.py).
vec3 room_light(float z) {
    float rising = (2.0 / (3.0 * PI)) * ((PI - acos(clamp(z, -1.0, 1.0))) * z + sqrt(max(0.0, 1.0 - z * z)));
    return uHorizon * (0.5 + 0.5 * z) + (uSurround - uHorizon) * rising;
}

// acos(x) / sqrt(1 - x^2), fitted by us: error below 1.6e-4 for x >= 0.
float angle_over_sine(float x) {
    float y = abs(x);
    float f = 1.57063948 + y * (-0.99148369 + y * (0.70788253 + y * (-0.39544918 + y * 0.10852485)));
    return x >= 0.0 ? f : PI * inversesqrt(max(1.0 - y * y, 1e-6)) - f;
}

vec3 edge(vec3 a, vec3 b) { return cross(a, b) * angle_over_sine(clamp(dot(a, b), -1.0, 1.0)); }

// Form factor of a rectangle seen from p, half-extents r and u, c from p to its middle: Lambert's polygon sum, clipped
// at the surface's own horizon.
float form_factor(vec3 c, vec3 r, vec3 u, vec3 n) {
    vec3 a = normalize(c - r - u), b = normalize(c + r - u), d = normalize(c + r + u), e = normalize(c - r + u);
    vec4 height = vec4(dot(a, n), dot(b, n), dot(d, n), dot(e, n));
    float lowest = min(min(height.x, height.y), min(height.z, height.w));
    float highest = max(max(height.x, height.y), max(height.z, height.w));
    float full = dot(edge(a, b) + edge(b, d) + edge(d, e) + edge(e, a), n);
    // the clipped sum is a loop of no turns where all of it is in view: see reflection.glsl
    int sides = lowest < 0.0 && highest > 0.0 ? 4 : 0;
    vec3 sum = vec3(0.0), leaves = vec3(0.0), enters = vec3(0.0), from = a;
    float hf = height.x;
    for (int k = 0; k < sides; ++k) {
        vec3 to = k == 0 ? b : k == 1 ? d : k == 2 ? e : a;
        float ht = k == 0 ? height.y : k == 1 ? height.z : k == 2 ? height.w : height.x;
        vec3 cut = normalize(from * abs(ht) + to * abs(hf) + 1e-9 * n);
        vec3 s = hf < 0.0 ? cut : from, t = ht < 0.0 ? cut : to;
        enters = hf < 0.0 && ht >= 0.0 ? cut : enters;
        leaves = hf >= 0.0 && ht < 0.0 ? cut : leaves;
        sum += hf < 0.0 && ht < 0.0 ? vec3(0.0) : edge(s, t);
        from = to;
        hf = ht;
    }
    float form = sides > 0 ? dot(sum + edge(leaves, enters), n) : full;
    return highest > 0.0 ? abs(form) * (0.5 / PI) : 0.0;
}

#if BOXES
float box_form(int i, vec3 p, vec3 n) {
    vec3 c = uBoxCentre[i] - p;
    return dot(uBoxFacing[i], c) < 0.0 ? form_factor(c, uBoxRight[i], uBoxUp[i], n) : 0.0;
}

// Share of a mirror lobe of slope width w about direction r that falls on soft box i. The lobe is GGX's
// slope distribution: along one axis its integral is x / sqrt(x^2 + w^2) / 2 + 1/2; across it, at a
// place on that axis, it is as wide as the two together.
float span(float a, float b, float w) { return 0.5 * (b * inversesqrt(b * b + w * w) - a * inversesqrt(a * a + w * w)); }

// A ray that leaves r by an angle asks the surface's normal to lean by half of it: here along axis a,
// twice the tangent of half the angle.
float slope(vec3 to, vec3 r, vec3 a) { return 2.0 * dot(to, a) / max(length(to) + dot(to, r), 1e-3); }

float box_share(int i, vec3 p, vec3 n, vec3 r, float w) {
    vec3 d = uBoxCentre[i] - p, c = normalize(d), x = uBoxRight[i], y = uBoxUp[i];
    float near = dot(c, r);
    if (near < -0.6 || dot(c, uBoxFacing[i]) >= 0.0) return 0.0;
    // the box's axes, carried over the sphere from c to r
    vec3 carry = (c + r) / (1.0 + near);
    vec3 ax = normalize(x - c * dot(c, x)), ay = normalize(y - c * dot(c, y));
    ax -= carry * dot(ax, r);
    ay -= carry * dot(ay, r);
    float left = slope(d - x, r, ax), right = slope(d + x, r, ax);
    float low = slope(d - y, r, ay), top = slope(d + y, r, ay);
    // seen aslant, a facet that leans to the side turns the ray less: the lobe is narrower by the cosine there
    vec3 side = cross(n, r);
    float rise = max(dot(n, r), 0.05), less = (1.0 - rise * rise) / max(dot(side, side), 1e-6);
    float px = dot(ax, side), py = dot(ay, side);
    float wide = w * sqrt(max(1.0 - less * px * px / dot(ax, ax), 0.0)) + 0.002;
    float tall = w * sqrt(max(1.0 - less * py * py / dot(ay, ay), 0.0)) + 0.002;
    float high = tall * length(vec2(1.0, clamp(0.0, left, right) / wide));
    float across = span(left, right, wide), along = span(low, top, high);
    // where the lobe's mean over it meets it, from -1 at the lower edge to 1: a wide lobe sees its bright end from afar
    float mean = 0.5 * high * high * (inversesqrt(low * low + high * high) - inversesqrt(top * top + high * high));
    float at = clamp((2.0 * mean / max(along, 1e-4) - low - top) / max(top - low, 1e-4), -1.0, 1.0);
    float graded = (1.0 - 0.5 * uBoxFade[i] * (1.0 + at)) / (1.0 - 0.5 * uBoxFade[i]);
    return graded * across * along
         * clamp(0.5 + 1.4 * dot(n, c), 0.0, 1.0);     // what of it is over the surface's own horizon
}
#endif

// Radiance of the ground at a point of it, blurred over `spread` mm.
vec3 floor_radiance(vec2 xy, float spread) {
    vec2 at = clamp(xy / (2.0 * uFloorHalf) + 0.5, 0.002, 0.998);
    vec3 lit = textureLod(uFloor, at, log2(max(spread / uFloorTexel, 1.0))).rgb;
    vec3 seen = mix(lit, uBackdrop, smoothstep(uFade.x, uFade.y, length(xy)));
    for (int once = 0; once < int(uCard.z > uCard.x); ++once) {
        vec2 on = clamp(0.5 + min(xy - uCard.xy, uCard.zw - xy) / spread, 0.0, 1.0);
        seen = mix(seen, lit * uCardShare, on.x * on.y);
    }
    return seen;
}

// What a mirror lobe of slope width w sees from p towards r, the pedal itself left out but for the panel
// that it stands over (radiance, and how surely it does). The surface's own horizon cuts the lobe: of n.
vec3 studio(vec3 p, vec3 n, vec3 r, float w, vec4 panel) {
    float rise = max(dot(n, r), 0.0), own = 0.5 + 0.5 * rise * inversesqrt(rise * rise + w * w + 1e-6);
    float above = min((0.5 + 0.5 * r.z * inversesqrt(r.z * r.z + w * w + 1e-6)) / own, 1.0);
    vec3 up = room(max(r.z, 0.5 * w));
    vec3 down = uHorizon;
    if (uHasGround > 0.5 && above < 0.999) {
        float t = (p.z - uGroundZ) / max(-r.z, 0.04 + 0.5 * w);
        down = floor_radiance(p.xy + r.xy * t, 1.5 * w * t + 2.0);
    }
    vec3 seen = mix(mix(down, panel.rgb, panel.a), up, above);
#if BOXES
    for (int i = 0; i < BOXES; ++i) seen += uBoxLight[i] * (box_seen[i] * min(box_share(i, p, n, r, w) / own, 1.0));   // lamps hide nothing
#endif
    return seen;
}
