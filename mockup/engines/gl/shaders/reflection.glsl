// The pedal in its own mirrors: a picture of it from straight above, with heights.
uniform sampler2D uAbove;         // radiance, height (mm; far below where there is nothing)
uniform mat4 uAboveMat;           // world to its 0..1
uniform float uPhase;             // this pass's share of a step, 0 to 1
uniform vec2 uLobe;               // this pass's place in a mirror lobe, in lobe widths
uniform float uWidest;            // mirror lobes wider than this do not follow rays
uniform float uPanelZ;            // height of the panel; what stands lower stands over none
uniform vec2 uPanelMetal;          // share of metal in the panel's surface, slope width of its mirror lobe
uniform vec3 uPanelLight;         // mean radiance of the panel: what a draft knows of it, without a picture from above
uniform vec3 uAboveSize;          // width of it (mm), texel (mm), highest point (mm)

const float LIFT = 0.2;            // mm; rays start so far over their surface
const float THICK = 45.0;         // mm; what lies deeper under the height picture is passed beneath: taller than any knob

// A height for the picture from above, in steps of STEP mm: what is left over says how rough the metal there is.
const float STEP = 0.0625;
float marked(float z, float metallic, float w) {
    return STEP * (floor(z / STEP + 0.5) + (metallic > 0.9 ? 0.2 + 0.7 * min(w, 1.0) : 0.0));
}

// Radiance of what lies at p towards a ray r that meets it, from what it is from straight above: metal mirrors the room,
// so it is another one from each side. `metal` is its share of metal and the slope width of that; `away` the mirrored ray.
vec3 seen_aslant(vec3 above, vec3 p, vec3 away, vec2 metal, float w) {
    vec3 found = above;
    for (int once = 0; once < int(metal.x > 0.0); ++once) {
        vec3 up = vec3(0.0, 0.0, 1.0), n = away.z > 0.0 ? up : normalize(away);
        vec3 straight = studio(p, up, up, max(metal.y, 0.5), vec4(0.0));
        vec3 aslant = studio(p, n, away, sqrt(metal.y * metal.y + w * w), vec4(0.0));
        found *= mix(vec3(1.0), aslant / max(straight, 1e-3), metal.x);
    }
    return found;
}

#if STEPS
// This pass's ray of a mirror lobe of slope width `wide`: the passes together make the blur.
vec3 in_lobe(vec3 mid_way, vec3 n, float wide) {
    vec3 helper = abs(mid_way.z) < 0.9 ? vec3(0.0, 0.0, 1.0) : vec3(1.0, 0.0, 0.0);
    vec3 s1 = normalize(cross(helper, mid_way));
    vec2 lobe = spin() * uLobe;
    vec3 r = normalize(mid_way + wide * (s1 * lobe.x + cross(mid_way, s1) * lobe.y));
    return dot(r, n) < 0.02 ? mid_way : r;
}

// Share of metal at a texel of the picture from above, and the slope width of its mirror lobe.
vec2 metal_at(vec2 texel) {
    float mark = fract(texelFetch(uAbove, clamp(ivec2(texel), ivec2(0), textureSize(uAbove, 0) - 1), 0).a / STEP);
    vec2 paint = uPanelMetal.x > 0.9 ? vec2(0.0) : uPanelMetal;
    return mark > 0.1 && mark < 0.95 ? vec2(1.0, (mark - 0.2) / 0.7) : paint;
}

float height_at(vec2 texel) {
    return texelFetch(uAbove, clamp(ivec2(texel), ivec2(0), textureSize(uAbove, 0) - 1), 0).a;
}

// Whether something lies over a point, so that it is not seen from above.
bool covered(vec3 p) { return p.z < height_at((uAboveMat * vec4(p, 1.0)).xy * float(textureSize(uAbove, 0).x)) - 1.0; }

// Follow r over the height picture; returns radiance and how surely it hits. Software GL runs both
// sides of every `if`, so what is to be skipped sits in a loop that ends at once.
vec4 strike(vec3 from, vec3 n, vec3 mid_way, float wide, bool wanted) {
    vec3 r = in_lobe(mid_way, n, wide);
    vec3 p = from + n * (1.5 * uAboveSize.y);      // clear of the wall that it stands on
    float top = uAboveSize.z;
    // everything in texels from here on: start, and change per mm along the ray
    float texels = float(textureSize(uAbove, 0).x);
    vec2 at = (uAboveMat * vec4(p, 1.0)).xy * texels, along = mat2(uAboveMat) * r.xy * texels;
    float reach = r.z > 0.0 ? min(40.0, (top + 0.2 - p.z) / max(r.z, 1e-3)) : 40.0;
    int steps = wanted && !covered(p) && p.z > uPanelZ - 1.0 && p.z < top + 0.5 ? STEPS : 0;
    float before = 0.4, hit = 0.0;
    for (int k = 1; k <= steps; ++k) {
        float x = (float(k) - uPhase) / float(STEPS);
        float t = reach * x * x + 0.4;
        float under = height_at(at + along * t) - (p.z + r.z * t);
        if (under > 0.0 && under < THICK) { hit = t; break; }
        before = t;
    }
    vec4 found = vec4(0.0);
    for (int once = 0; once < int(hit > 0.0); ++once) {
        for (int m = 0; m < 3; ++m) {              // halve the last step to find the edge
            float mid = 0.5 * (before + hit);
            bool inside = p.z + r.z * mid < height_at(at + along * mid);
            hit = inside ? mid : hit;
            before = inside ? before : mid;
        }
        // a wall has no colour of its own from above: its rim's, from a little further in, somewhat dimmer
        vec2 inward = 2.5 * along / max(length(along), 1e-4);
        float level = log2(max(0.6 * wide * hit / uAboveSize.y, 3.0));
        vec4 rim = textureLod(uAbove, (at + along * hit + inward) / texels, level);
        float wall = smoothstep(0.5, 2.5, height_at(at + along * hit + inward) - (p.z + r.z * hit));
        // of metal a wall throws the ray back the way it came, a top throws it on
        vec2 metal = metal_at(at + along * hit + inward);
        vec3 away = wall > 0.5 ? vec3(-r.xy, r.z) : vec3(r.xy, max(abs(r.z), 0.02));
        rim.rgb = seen_aslant(rim.rgb * (1.0 - 0.35 * wall * (1.0 - metal.x)), p + r * hit, away, metal, wide);
        found = vec4(rim.rgb, 1.0 - smoothstep(0.35, 0.7, wide));
    }
    return found;
}
#endif

#if STEPS
// How surely there is panel, not an edge or a part that juts out, at a place of the picture from above.
float panel_there(vec2 at) { return clamp((textureLod(uAbove, at, 4.0).a + 60.0) / 40.0, 0.0, 1.0); }
#endif

// The panel that a mirror lobe meets on its way down from a part that stands over it. The box itself and
// parts on its walls stand over none: beside them lie only the tops of parts that jut out.
vec4 panel_under(vec3 p, vec3 n, vec3 r, float w) {
#if STEPS && OVER_PANEL
    vec3 from = p + n * 2.0;
    float height = textureLod(uAbove, (uAboveMat * vec4(from, 1.0)).xy, 0.0).a;
    float on = smoothstep(-3.0, -0.5, p.z + 1.0 - height) * step(n.z, 0.98);
    on *= panel_there((uAboveMat * vec4(from, 1.0)).xy) * step(uPanelZ, p.z);
    float t = min(max(from.z - height, 0.0) / max(-r.z, 0.15 + 0.5 * w), 30.0);
    float level = 3.0 + clamp(log2(w * t / (8.0 * uAboveSize.y) + 1e-3), 0.0, 3.0);
    on *= panel_there((uAboveMat * vec4(from + r * t, 1.0)).xy);   // a flat ray passes over its edge to the ground
    vec3 panel = textureLod(uAbove, (uAboveMat * vec4(from + r * t, 1.0)).xy, level).rgb;
    vec2 metal = metal_at((uAboveMat * vec4(from + r * t, 1.0)).xy * float(textureSize(uAbove, 0).x));
    // seen aslant it mirrors more than from above: Schlick's curve, index 1.5
    float slant = 1.0 - min(abs(r.z) + 0.5 * w, 1.0), slant2 = slant * slant;
    float gloss = r.z < 0.0 ? 0.96 * slant2 * slant2 * slant * (1.0 - metal.x) : 0.0;
    vec3 away = vec3(r.xy, max(abs(r.z), 0.02));
    return vec4(mix(seen_aslant(panel, from + r * t, away, metal, w), studio(p, vec3(0.0, 0.0, 1.0), vec3(r.xy, abs(r.z)), w, vec4(0.0)), gloss), on);
#elif OVER_PANEL && !FROM_ABOVE
    // near a part's foot its own shade lies on the panel; a flat ray passes over the panel's edge: both by eye
    float high = p.z - uPanelZ, t = high / max(-r.z, 0.1);
    float on = step(n.z, 0.98) * step(0.0, high) * (1.0 - smoothstep(20.0, 80.0, t));
    vec3 away = vec3(r.xy, max(abs(r.z), 0.02));
    return vec4(seen_aslant(uPanelLight, p + r * t, away, uPanelMetal, w) * mix(0.35, 1.0, smoothstep(0.0, 12.0, high)), on);
#else
    return vec4(0.0);
#endif
}

// What is far off, behind what stands near.
vec3 behind(vec3 far, vec3 p, vec3 n, vec3 r, float w, bool wanted) {
#if STEPS
    // paint's walls keep to the studio: what lies beside them is not seen from above
    vec4 near = strike(p, n, r, w, wanted && w < uWidest && (uWidest > 0.5 || abs(n.z) > 0.5));
    return mix(far, near.rgb, near.a);
#else
    return far;
#endif
}

#if MIRROR
uniform vec4 uPlane;               // of the face: unit normal, offset
const float WIDEST_PICTURE = 0.2;  // mirror lobes wider than this do not look at it

// Whether a place is on the flat of the face: there its mirror picture shows what stands on it.
bool on_flat(vec3 p, vec3 n) { return dot(n, uPlane.xyz) > 0.9999 && abs(dot(uPlane, vec4(p, 1.0))) < 0.05; }

// What the parts on the face send to a place of it along r, premultiplied.
vec4 in_mirror(vec3 p, vec3 r, float w) {
    vec3 n = uPlane.xyz, ray = in_lobe(r, n, w);
    float rise = max(dot(ray, n), 0.02);
    vec3 way = ray - 2.0 * dot(ray, n) * n;
    // the ray meets a part where its height and the picture's agree
    vec4 seen = uMirrorView * vec4(p, 1.0), along = uMirrorView * vec4(way / rise, 0.0), from = seen;
    float high = 5.0;
    for (int k = 3; k > 0; --k) {
        high = height_there(0.5 + 0.5 * seen.xy / seen.w, float(k), high);
        seen = from + high * along;
    }
    float level = log2(max(0.6 * w * high / rise / uGrain.w, 1.0));
    return textureLod(uMirror, 0.5 + 0.5 * seen.xy / seen.w, level);
}
#endif

vec3 mirror(vec3 p, vec3 n, vec3 r, float w, float closed) {
    vec4 panel = panel_under(p, n, r, w);
    panel.rgb /= closed;               // what closes the surface in hides the room, not the panel beside it
    vec3 far = studio(p, n, r, w, panel);
#if MIRROR
    // its picture knows what is hidden of the studio, a hair over the face or on it
    bool is_there = w < WIDEST_PICTURE && on_flat(p - n * LIFT, n);
    vec4 near = vec4(0.0);
    for (int once = 0; once < int(is_there); ++once) near = in_mirror(p - n * LIFT, r, w);
    vec3 found = behind(far * closed, p, n, r, w, !is_there);
    return is_there ? far * (1.0 - near.a) + near.rgb / uExposure : found;
#else
    vec3 found = behind(far * closed, p, n, r, w, true);
#if WALLS
    vec4 wall = wall_beside(p, r, w);
    found = mix(found, wall.rgb, wall.a);
#endif
    return found;
#endif
}

#if STEPS && OVER_PANEL
const float PANEL_MIRRORS = 0.09;  // share of even light that an interface of index 1.5 mirrors: Fresnel's equations

// What the picture from above shows `away` mm before a surface, blurred over `spread` mm; the share of it that is not empty.
vec4 above_there(vec3 p, vec3 n, float away, float spread) {
    vec2 at = (uAboveMat * vec4(p.xy + n.xy * (away + 1.0), p.z, 1.0)).xy;
    vec4 seen = textureLod(uAbove, at, max(log2(spread / uAboveSize.y), 2.0));
    float is_there = clamp((seen.a + 1000.0) / (uPanelZ + 1000.0), 0.0, 1.0);
    return vec4(seen.rgb, is_there) * (all(lessThan(abs(at - 0.5), vec2(0.5))) ? 1.0 : 0.0);
}
#endif

// Radiance of what lies below a surface on which light `lit` falls: the panel where there is one, else the ground.
vec3 below(vec3 p, vec3 n, vec3 lit) {
    vec3 down = uHorizon;
    float h = max(p.z - uGroundZ, 1.0);
    // three equal shares of what an upright wall sees: half of it lies further off than 1.7 times its height
    for (int once = 0; once < int(uHasGround > 0.5 && n.z < 0.996); ++once) {    // a level top sees none of it
        down = (floor_radiance(p.xy + n.xy * (0.66 * h), 0.8 * h) + floor_radiance(p.xy + n.xy * (1.73 * h), 1.6 * h)
             + floor_radiance(p.xy + n.xy * (5.9 * h), 5.0 * h)) / 3.0;
    }
#if STEPS && OVER_PANEL
    float over = p.z - uPanelZ;
    for (int once = 0; once < int(n.z < 0.98 && over > 0.0); ++once) {
        vec4 panel = (above_there(p, n, 0.66 * over, 0.8 * over) + above_there(p, n, 1.73 * over, 1.6 * over)
                    + above_there(p, n, 5.9 * over, 5.0 * over)) / 3.0;
        down = panel.rgb + (1.0 - panel.a) * down + panel.a * (1.0 - uPanelMetal.x) * PANEL_MIRRORS * 2.0 * lit;
    }
#elif OVER_PANEL && !FROM_ABOVE
    if (n.z < 0.98 && p.z > uPanelZ) down = uPanelLight;
#endif
    return down;
}
