// The ground's radiance round the pedal: closed-form light times what reaches it.
in vec2 vScreen;
out vec4 colour;
#include "area_lights.glsl"
uniform sampler2D uReach;         // share of blocked samples: lamps in r, g, b; the room in a
uniform vec3 uGround;
uniform vec3 uBounce;             // radiance that blocked room light is replaced by: the pedal's own

void main() {
    vec3 p = vec3((vScreen * 2.0 - 1.0) * uFloorHalf, uGroundZ);
    // the samples' steps melt into one soft edge
    vec2 apart = vec2(1.3) / vec2(textureSize(uReach, 0));
    vec4 blocked = 0.25 * (texture(uReach, vScreen + apart * vec2(1, 0.35)) + texture(uReach, vScreen + apart * vec2(-0.35, 1))
                 + texture(uReach, vScreen + apart * vec2(-1, -0.35)) + texture(uReach, vScreen + apart * vec2(0.35, -1)));
    vec3 n = vec3(0.0, 0.0, 1.0);
    vec3 open = room_light(1.0), light = mix(open, uBounce * (1.0 - 0.7 * blocked.r), blocked.a);   // a wall in the shade sends less
#if BOXES
    for (int i = 0; i < BOXES; ++i) {
        vec3 full = uBoxLight[i] * box_form(i, p, n);
        open += full;
        light += full * (1.0 - (i == 0 ? blocked.r : i == 1 ? blocked.g : blocked.b));
    }
#endif
    const vec3 luma = vec3(0.2126, 0.7152, 0.0722);   // IEC 61966-2-1:1999, row Y
    colour = vec4(uGround * light, 1.0 - dot(light, luma) / max(dot(open, luma), 1e-6));
}
