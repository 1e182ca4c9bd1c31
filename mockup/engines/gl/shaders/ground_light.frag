// The ground's radiance round the pedal: closed-form light times what reaches it, and what the box's walls send back.
in vec2 vScreen;
out vec4 colour;
#include "area_lights.glsl"
#include "walls.glsl"
uniform sampler2D uReach;         // share of blocked samples: lamps in r, g, b; the room in a
uniform vec3 uGround;
uniform vec3 uBounce;             // radiance that blocked room light is replaced by: the pedal's own
#if WALLS
uniform vec4 uFoot;               // what of the ground the box stands on, in its own frame: least x and y, greatest
uniform vec2 uFootTurn;           // first row of its turn
const float CLEAR = 2.5;          // texels; nearer to the box the samples' steps and coarser casters lie under its walls
const float CORNER = 5.5;         // mm; radius of its corners: the usual box's, common practice

// Ground that the box hides from sight holds what lies as far outside: what reads it softly takes no dark from below.
// Returns that place, no nearer to the box than `least`.
vec2 beside_foot(vec2 at, float least) {
    vec2 t = uFootTurn, own = vec2(t.x * at.x - t.y * at.y, t.y * at.x + t.x * at.y);
    vec2 from = own - 0.5 * (uFoot.xy + uFoot.zw), q = abs(from) - 0.5 * (uFoot.zw - uFoot.xy) + CORNER;
    float outside = length(max(q, 0.0)) + min(max(q.x, q.y), 0.0) - CORNER;
    vec2 way = q.x > 0.0 && q.y > 0.0 ? normalize(q) : q.x > q.y ? vec2(1.0, 0.0) : vec2(0.0, 1.0);
    own += (max(abs(outside), least) - outside) * way * sign(from);
    return uFoot.z > uFoot.x ? vec2(t.x * own.x + t.y * own.y, t.x * own.y - t.y * own.x) : at;
}

#if BOXES
// Share of soft box i that a wall throws on the ground as a mirror: of the box lies before the wall, and is seen from p
// under the wall's upper edge and between its ends, what is further from the wall than `least`.
vec3 thrown(int i, int wall, vec3 p) {
    vec3 away = uWallOut[wall], to = uBoxCentre[i] - p, found = vec3(0.0);
    float d = dot(away, p - uWallCentre[wall]), x = dot(away, uBoxCentre[i] - uWallCentre[wall]);
    float reach = abs(dot(away, uBoxRight[i])) + abs(dot(away, uBoxUp[i])) + uWallShine[wall].a * length(to);
    float least = max(d * to.z / (2.0 * uWallUp[wall].z) - d, 0.0), seen = clamp(0.5 + 0.5 * (x - least) / reach, 0.0, 1.0);
    for (int once = 0; once < int(d > 0.0 && seen > 0.0); ++once) {    // a lamp on high only beside the wall
        x = 0.5 * (x + reach + max(x - reach, least));           // the middle of that
        vec3 along = to - away * dot(away, to);
        float slant = 1.0 - (x + d) * inversesqrt(dot(along, along) + (x + d) * (x + d)), slant2 = slant * slant;
        float wide = length(uWallRight[wall]), end = abs(dot(p + along * (d / (x + d)) - uWallCentre[wall], uWallRight[wall])) / wide - wide;
        seen *= 1.0 - smoothstep(-0.5 * d - 1.0, 0.5 * d + 1.0, end);
        vec3 shine = uWallShine[wall].rgb + (1.0 - uWallShine[wall].rgb) * slant2 * slant2 * slant;
        found = shine * seen / (1.0 + 2.0 * uWallShine[wall].a);   // a rough one throws some of it upward: by eye
    }
    return found;
}
#endif
#endif

void main() {
    vec3 p = vec3((vScreen * 2.0 - 1.0) * uFloorHalf, uGroundZ), n = vec3(0.0, 0.0, 1.0);
    vec3 own = vec3(0.0);
    float walled = 0.0;
#if WALLS
    p.xy = beside_foot(p.xy, 0.0);
    for (int i = 0; i < WALLS; ++i) {
        vec3 c = uWallCentre[i] - p;
        for (int once = 0; once < int(dot(uWallOut[i], c) < 0.0); ++once) {    // of those that face it
            float form = form_factor(c, uWallRight[i], uWallUp[i], n);
            own += uWallLight[i] * form;
            walled += form;
        }
    }
#endif
    // the samples' steps melt into one soft edge
#if WALLS
    vec2 at = beside_foot(p.xy, CLEAR * uFloorTexel) / (2.0 * uFloorHalf) + 0.5;
#else
    vec2 at = vScreen;
#endif
    vec2 apart = vec2(1.3) / vec2(textureSize(uReach, 0));
    vec4 blocked = 0.25 * (texture(uReach, at + apart * vec2(1, 0.35)) + texture(uReach, at + apart * vec2(-0.35, 1))
                 + texture(uReach, at + apart * vec2(-1, -0.35)) + texture(uReach, at + apart * vec2(0.35, -1)));
    vec3 open = room_light(1.0);
    // a part that stands in the shade sends less
    float hidden = max(blocked.a, walled);
    vec3 light = open * (1.0 - hidden) + own + uBounce * ((hidden - walled) * (1.0 - 0.7 * blocked.r));
#if BOXES
    for (int i = 0; i < BOXES; ++i) {
        vec3 full = uBoxLight[i] * box_form(i, p, n);
        open += full;
        light += full * (1.0 - (i == 0 ? blocked.r : i == 1 ? blocked.g : blocked.b));
#if WALLS
        for (int k = 0; k < WALLS; ++k) light += full * thrown(i, k, p);
#endif
    }
#endif
    const vec3 luma = vec3(0.2126, 0.7152, 0.0722);   // IEC 61966-2-1:1999, row Y
    colour = vec4(uGround * light, 1.0 - dot(light, luma) / max(dot(open, luma), 1e-6));
}
