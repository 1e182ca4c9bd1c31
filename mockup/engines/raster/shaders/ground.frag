// The seamless ground, or with none its shadow as transparency.
in vec3 vWorld;
out vec4 colour;
#include "light.glsl"
uniform float uExposure;

void main() {
    vec2 at = vWorld.xy / (2.0 * uFloorHalf) + 0.5;
    float far = smoothstep(uFade.x, uFade.y, length(vWorld.xy));
    vec4 here = texture(uFloor, clamp(at, 0.002, 0.998));
    if (uHasGround > 0.5) colour = vec4(mix(here.rgb, uBackdrop, far) * uExposure, 1.0);
    else colour = vec4(0.0, 0.0, 0.0, clamp(here.a, 0.0, 1.0) * (1.0 - far));
}
