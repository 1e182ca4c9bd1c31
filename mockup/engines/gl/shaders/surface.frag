// A surface in the studio: metal or paint, under clear lacquer or not.
in vec3 vWorld;
in vec3 vBody;
in vec3 vNormal;
in vec2 vUv;
out vec4 colour;
uniform vec3 uAxis;               // of a lit lens or of a lathe, unit
uniform float uExposure;
uniform vec4 uGrain;              // transmission, flake, hammer, pixel size (mm)
#include "base_colour.glsl"
#include "film.glsl"
#include "waviness.glsl"
#include "area_lights.glsl"
#include "shadow_maps.glsl"
#include "planar_reflection.glsl"
#include "walls.glsl"
#include "reflection.glsl"
#include "grain.glsl"
#include "fresnel.glsl"
#include "cavity.glsl"
#include "anisotropy.glsl"
#include "seam.glsl"
uniform mat4 uModel;              // body to world
uniform vec4 uEye;                // position, 1; or the way back to an orthographic camera, 0
uniform vec4 uKind;               // metallic, roughness, coat, coat roughness
uniform vec3 uEmission;
uniform float uGloss;             // of what smooth paint mirrors, 0 to 1
uniform vec3 uBounce;             // radiance that a blocked piece of sky is replaced by
#if LAMPS
uniform vec4 uLamp[LAMPS];        // centre, radius
uniform vec3 uLampLight[LAMPS];
uniform vec3 uLampAxis[LAMPS];    // unit
uniform vec3 uLampRim[LAMPS];     // its bezel's edge: radius, height over the centre; height of its crown (mm)

// Share of lamp i that is seen over its bezel's edge.
float over_bezel(int i, vec3 from) {
    float low = dot(from, uLampAxis[i]), away = length(from - low * uLampAxis[i]), clear = away - uLampRim[i].x;
    float line = low + (uLampRim[i].y - low) * away / max(clear, 0.01), crown = uLampRim[i].z;
    return clear > 0.0 && low < uLampRim[i].y ? clamp((crown - line) / (2.0 * crown), 0.0, 1.0) : 1.0;
}
#endif

const float BRIGHTEST = 1.2;      // in the picture for mirrors, linear: what glints upward does not glint sideways
const float AIR_ROUGHNESS = 0.45; // of what air under film mirrors, as in `appearance/film.py`
const float LAMPS_MASKED = 0.2;   // of what rough metal's facets hide, the part taken from lamps too: by eye
const float UNDER_KNOB = 0.3;     // share of light that is left there: by eye

// Share of light that comes in at a cosine `rise` which paint scatters to the camera; `between` as in fresnel.glsl.
float sent(float rise, float nv, float between, float skin, float smooth_, bool flaked) {
#if FLAKED && !FILMED
    return scattered_under(rise, nv);
#elif FLAKED
    return flaked ? scattered_under(rise, nv) : mix(0.96, scattered(rise, nv, between, skin), smooth_);
#else
    return mix(0.96, scattered(rise, nv, between, skin), smooth_);
#endif
}

void main() {
    vec3 v = normalize(uEye.xyz - uEye.w * vWorld);
    vec3 flat_n = normalize(vNormal);
    if (dot(flat_n, v) < 0.0 && !gl_FrontFacing) flat_n = -flat_n;
    float dents_seen = uGrain.z * dented(uGrain.w);
    vec3 n = grained(flat_n, vBody, dents_seen);
#if FILMED || WAVED || GRAINED && HAS_PICTURE
    // the face's own u and v in the world
    vec3 wx = dFdx(vWorld), wy = dFdy(vWorld);
    vec2 ux = dFdx(vUv), uy = dFdy(vUv);
    float turned = ux.x * uy.y - ux.y * uy.x;
    turned = abs(turned) > 1e-12 ? turned : 1e-12;
    vec3 along_u = (wx * uy.y - wy * ux.y) / turned, along_v = (wy * ux.x - wx * uy.x) / turned;
#endif
    float waves_lost = 0.0;
#if WAVED
    n = waved(n, vUv, along_u, along_v, waves_lost);
#endif
    float nv = max(dot(n, v), 0.02);

    float metallic = uKind.x, coat = uKind.z;
    float dents_lost = 0.07 * (uGrain.z - dents_seen);   // half the slopes' width: by eye
    float roughness = widened(uKind.y, dents_lost, waves_lost), lacquer = widened(uKind.w, dents_lost, waves_lost);
    vec3 own = own_colour(vUv);
#if FILMED
    vec3 film_edge;
    vec2 film_below;
    float filmed = film_at(vUv, film_edge, film_below);
    metallic *= 1.0 - film_below.x;    // no metal and no flake shows through white
    coat = mix(coat, 1.0, filmed);
    lacquer = mix(lacquer, widened(uFilmKind.x, dents_lost, waves_lost), filmed);
    vec3 falls = along_u * film_edge.x + along_v * film_edge.y;
#endif

    vec3 r = reflect(-v, n);
    r = normalize(r + flat_n * max(0.0, 0.02 - dot(r, flat_n)));
    // in a hole its shape says how much light there is, the same in a draft as in a still
    float narrow = COATED == 1 ? lacquer : roughness;
    vec2 mouth = through_mouth(vWorld, n, r, 2.0 * narrow * narrow);
    bool outside = mouth.x == 1.0;

    // light on the surface, from lamps in view and the room, and what of it the paint scatters to the camera
    float skin = mix(roughness, lacquer, coat), smooth_ = mix(uGloss, 1.0, coat);
    bool flaked = metallic > 0.0 && coat > 0.5;
#if PAINTED
    float spread = sent(flaked ? 0.5 : 0.47, nv, 0.67 * nv, skin, smooth_, flaked);
#endif
    vec3 helper = abs(n.z) < 0.9 ? vec3(0.0, 0.0, 1.0) : vec3(1.0, 0.0, 0.0);
    vec3 t1 = normalize(cross(helper, flat_n)), t2 = cross(flat_n, t1);
    vec3 p = vWorld + flat_n * LIFT;
    vec3 light = vec3(0.0), dull = vec3(0.0);
#if BOXES
    for (int i = 0; i < BOXES; ++i) {
#if PAINTED || SKIES
        float form = box_form(i, vWorld, n);
#else
        float form = dot(n, uBoxCentre[i] - vWorld);     // metal reads no light where nothing is known to close it in
#endif
        float seen = 1.0;
        int layer = min(i, max(SHADED - 1, 0));   // a compiler that knows i minds what lies past the maps, reached or not
        for (int once = 0; once < int(form > 0.0 && i < SHADED && outside); ++once) seen = lit(layer, p, t1 * uTapRadius.x, t2 * uTapRadius.x);
        seen = i < SHADED ? shared_by_four(seen) : seen;
#if PAINTED
        // mean cosine over what of the lamp is above the surface's horizon
        vec3 way = uBoxCentre[i] - vWorld;
        float away = inversesqrt(dot(way, way)), over = dot(n, way), half_ = abs(dot(n, uBoxRight[i])) + abs(dot(n, uBoxUp[i]));
        float top = max(over + half_, 0.0), foot = max(over - half_, 0.0);
        float rise = clamp(0.67 * away * (top * top + top * foot + foot * foot) / max(top + foot, 1e-3), 0.02, 1.0);
        dull += uBoxLight[i] * (form * seen * sent(rise, nv, away * dot(v, way), skin, smooth_, flaked));
#endif
#if SKIES
        light += uBoxLight[i] * (form * seen);
#endif
        box_seen[i] = seen;
    }
#endif
    vec3 sky = room_light(n.z);
    float blocked_sum = 0.0, faced_sum = 0.15;
#if SKIES
    for (int k = 0; k < SKIES; ++k) {
        float facing = dot(n, uSkyWay[k]);
        if (facing > 0.0 && outside) {
            float blocked = 1.0 - lit(SHADED + k, p, t1 * uTapRadius.y, t2 * uTapRadius.y);
            sky += (uBounce - room(uSkyWay[k].z)) * (uSkyShare * facing * blocked);
            blocked_sum += uSkyShare * facing * blocked;
            faced_sum += uSkyShare * facing;
        }
    }
#endif
    float deep = 0.0;
#if SKIES && STEPS
    // what is not seen from above may lie in a hole of the box: one direction from below tells how deep
    bool hidden = outside && covered(vWorld + flat_n);
    float faced_down = hidden ? max(dot(n, uDeepWay), 0.0) : 0.0;
    for (int once = 0; once < int(faced_down > 0.0); ++once) {
        deep = 1.0 - lit(SHADED + SKIES, p, t1 * uTapRadius.y, t2 * uTapRadius.y);
        blocked_sum += 2.0 * faced_down * deep;
        faced_sum += 2.0 * faced_down;
    }
#endif
    vec3 around = sky + below(p, n, light + sky) * (0.5 - 0.5 * n.z) * (1.0 - deep);
#if LAMPS
    for (int i = 0; i < LAMPS; ++i) {
        vec3 d = uLamp[i].xyz - vWorld;
        float s = uLamp[i].w / max(length(d), uLamp[i].w);
        float c = dot(normalize(d), n);
        s *= sqrt(over_bezel(i, -d));
        around += uLampLight[i] * s * s * max((c + s) / (1.0 + s), 0.0) * 0.6 * step(uEmission.r + uEmission.g + uEmission.b, 0.0);
    }
#endif
    light += around;
#if PAINTED
    dull += around * spread;
#endif

    // what it mirrors
    float closed = 1.0 - 0.85 * blocked_sum / faced_sum;
#if SKIES && STEPS
    // a mirror ray that stays under cover ends on the underside of a knob
    bool deeper = hidden && r.z > -0.2 && p.z > uPanelZ;
    deeper = deeper && covered(vWorld + r) && covered(vWorld + 2.0 * r);
    closed *= deeper ? mix(UNDER_KNOB, 0.7, smoothstep(0.2, 0.5, narrow)) : 1.0;   // a wide lobe looks out beside it
#endif
    // a mirror so rough that it scatters loses a lamp where its light is kept out, and has it where the room alone is;
    // what closes it in is more of its own metal, lit about as it is
    float rough = metallic * smoothstep(0.2, 0.45, 2.0 * roughness * roughness);
    vec3 walls = rough * (1.0 - closed) * own * light;
#if BOXES
    for (int i = 0; i < BOXES; ++i) box_seen[i] = mix(1.0, box_seen[i] / closed, rough);
#endif
    dull *= mouth.x;
    vec3 result = vec3(0.0);
    float through = 1.0, open = 1.0;   // what lacquer lets through to metal, what air under film lets through to paint
#if COATED
    float sheen = coat * uGloss * glossed(lacquer, nv);
    vec3 mirrored_there = mirror(p, flat_n, r, 2.0 * lacquer * lacquer, closed) * mouth.y;
    through = 1.0 - sheen;
#if FROM_ABOVE
    sheen = 0.0;                       // a highlight is seen from one side alone: not in the picture for mirrors
#endif
    result += sheen * mirrored_there;
#endif
#if FILMED && !FROM_ABOVE
    for (int once = 0; once < int(film_below.y > 0.0005); ++once) {
        // air under the film mirrors as a dull silver does
        vec3 silver = studio(p, flat_n, r, 2.0 * AIR_ROUGHNESS * AIR_ROUGHNESS, vec4(0.0)) * closed * mouth.y;
        result += film_below.y * through * silver;
        through *= 1.0 - film_below.y;
        open -= film_below.y;
    }
    for (int once = 0; once < int(film_edge.z > 0.002); ++once) {
        vec3 sloping = normalize(n + uFilmKind.y * falls);
        float wide = 2.0 * uFilmKind.x * uFilmKind.x;
        vec3 line = glossed(uFilmKind.x, max(dot(sloping, v), 0.02)) * studio(p, flat_n, reflect(-v, sloping), wide, vec4(0.0)) * closed;
        result += film_edge.z * (line - glossed(lacquer, nv) * mirrored_there);
    }
#endif
#if BARE
    vec3 glint = r;
    float wide = 2.0 * roughness * roughness;
    bool has_flakes = false;
#if GRAINED
    has_flakes = uGrain.y > 0.0;
    if (has_flakes) {
        // what of their leaning a pixel does not resolve makes its lobe wider
        vec3 along, one = flake(vBody, vUv, uGrain.w, along);
        along = mat3(uModel) * along;
#if HAS_PICTURE
        along = along_u;
#endif
        along = normalize(along - n * dot(n, along));
        float shown = uGrain.y * one.z;
        vec3 tilted = normalize(n + 1.3 * wide * shown * (along * one.x + cross(n, along) * one.y));
        glint = reflect(-v, tilted);
        glint = normalize(glint + flat_n * max(0.0, 0.02 - dot(glint, flat_n)));
        wide *= sqrt(1.0 - shown * shown * (1.0 - 0.0625));
        roughness = sqrt(0.5 * wide);
    }
#endif
    vec2 ab = mirrored(roughness, nv);
    float masked = min(1.0 - metal_mirrored(roughness, nv), 1.0 - ab.x - ab.y);
    ab.x = metallic > 0.0 ? 1.0 - ab.y : ab.x;
    float gloss = uGloss * glossed(roughness, nv);
#if FROM_ABOVE
    wide = max(wide, 0.5 * metallic);   // paint beside it does not see metal from straight above: its mean will do
#endif
#if MARKS
    vec3 seen = mirror_anisotropic(p, flat_n, glint, v, wide, closed) * mouth.y;
#else
    vec3 seen = mirror(p, flat_n, glint, wide, closed) * mouth.y;
#endif
    // rough metal keeps back rays that leave near its horizon: what is lost is room and ground there, little of lamps
    vec3 lost = metallic * masked * own * mix(min(around, seen), seen, LAMPS_MASKED);
    seen += walls;
    // flakes lie under the ink and the lacquer: both tint all that they mirror
    float weight = metallic > 0.0 ? through : 1.0 - coat;
#if FROM_ABOVE
    gloss = 0.0;
#endif
    vec3 tint = own * ab.x + (has_flakes ? own : vec3(1.0)) * ab.y;
    result += weight * (mix(vec3(has_flakes ? gloss * (1.0 - coat) : gloss), tint, metallic) * seen - lost);
#endif
    // paint under the surface: in and out through one interface, as a rough plastic
    vec3 paint = own * dull * open;
#if CLEAR
    // through a lens: in, off the cup behind it and out again, tinted twice
    vec3 inside = reflect(refract(-v, n, 1.0 / 1.5), uAxis);
    paint = mix(paint, 0.45 * own * studio(p, inside, inside, 0.35, vec4(0.0)), uGrain.x) * (1.0 - 0.25 * uGrain.x);
#endif
    result += (1.0 - metallic) * paint;
    // a lit lens: the same curve as appearance/lens.py
    float crown = max(dot(n, uAxis), 0.0), crown2 = crown * crown;
    float facing2 = nv * nv, white = max(uEmission.r, max(uEmission.g, uEmission.b)) * facing2 * facing2;
    result += (0.01 + 0.99 * crown2 * crown2 * crown2 + 0.04 * facing2) * (uEmission + 1.50 * white * facing2 * facing2);
    result *= beside_seam(vBody.z, uGrain.w / max(length(v.xy), 0.2));
#if FROM_ABOVE
    colour = vec4(min(result, BRIGHTEST / uExposure), marked(vWorld.z, metallic, 2.0 * roughness * roughness));
#else
    colour = vec4(result * uExposure, 1.0);
#endif
}
