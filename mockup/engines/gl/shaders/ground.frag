// The seamless ground, matt or polished, or with none its shadow as transparency.
in vec3 vWorld;
out vec4 colour;
#include "area_lights.glsl"
uniform float uExposure;
#if SPREAD
#include "fresnel.glsl"
#include "planar_reflection.glsl"
uniform vec2 uScreen;               // size of the picture (px)
uniform vec4 uEye;                  // position, 1; or the way back to an orthographic camera, 0
uniform float uPolish;              // roughness
uniform vec2 uSpread[SPREAD];       // this pass's places in the mirror lobe, in lobe widths

// What a polished floor mirrors: the pedal, sharp where it stands and softer the higher it is, and the studio.
vec3 polished(vec3 v, float w) {
    float rise = max(v.z, 0.05), across = 1.0 / max(length(dFdx(vWorld.xy)), 1e-4);   // px per mm
    vec2 at = gl_FragCoord.xy / uScreen;
    float near = height_there(at, 5.0, 25.0);
    vec4 sum = vec4(0.0);
    for (int k = 0; k < SPREAD; ++k) {
        // a leaning facet moves the ray less to the side than up and down, the flatter the view
        vec2 way = uSpread[k] * w * vec2(1.0, 1.0 / rise) * across / uScreen;
        float there = height_there(at + way * near, 3.0, near);
        there = height_there(at + way * there, 2.0, there);
        sum += textureLod(uMirror, at + way * there, 1.0);
    }
    sum /= float(SPREAD);
    vec3 n = vec3(0.0, 0.0, 1.0), r = vec3(-v.xy, v.z);
    vec3 studio = room(max(r.z, 0.5 * w));
#if BOXES
    for (int i = 0; i < BOXES; ++i) studio += uBoxLight[i] * box_share(i, vWorld, n, r, w);
#endif
    return sum.rgb / uExposure + studio * (1.0 - sum.a);
}
#endif

void main() {
    vec2 at = vWorld.xy / (2.0 * uFloorHalf) + 0.5;
    float far = smoothstep(uFade.x, uFade.y, length(vWorld.xy));
    vec4 here = texture(uFloor, clamp(at, 0.002, 0.998));
#if SPREAD
    vec3 v = normalize(uEye.xyz - uEye.w * vWorld);
    float gloss = glossed(uPolish, max(v.z, 0.02));
    here.rgb = mix(here.rgb, polished(v, 2.0 * uPolish * uPolish), gloss);
#endif
    if (uHasGround > 0.5) colour = vec4(mix(here.rgb, uBackdrop, far) * uExposure, 1.0);
    else colour = vec4(0.0, 0.0, 0.0, clamp(here.a, 0.0, 1.0) * (1.0 - far));
}
