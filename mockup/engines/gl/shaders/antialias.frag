// Softens the stairs on edges of a single pass: each pixel that stands out from its neighbours is
// mixed with what lies across the edge, by how far it stands out. Flat areas stay as they are.
in vec2 vScreen;
out vec4 colour;
uniform sampler2D uPass;

float weight(vec4 c) { return dot(min(c.rgb, 1.5), vec3(0.30, 0.59, 0.11)) + c.a; }

void main() {
    ivec2 at = ivec2(gl_FragCoord.xy), last = textureSize(uPass, 0) - 1;
    vec4 here = texelFetch(uPass, at, 0);
    vec4 north = texelFetch(uPass, min(at + ivec2(0, 1), last), 0), south = texelFetch(uPass, max(at - ivec2(0, 1), ivec2(0)), 0);
    vec4 east = texelFetch(uPass, min(at + ivec2(1, 0), last), 0), west = texelFetch(uPass, max(at - ivec2(1, 0), ivec2(0)), 0);
    float n = weight(north), s = weight(south), e = weight(east), w = weight(west), c = weight(here);
    float range = max(max(max(n, s), max(e, w)), c) - min(min(min(n, s), min(e, w)), c);
    // both sides of a step get a quarter of the other; a line one pixel wide (lettering) is left alone
    float step_v = abs(n - s), step_h = abs(e - w);
    float strength = 0.28 * smoothstep(0.03, 0.12, range) * smoothstep(0.35, 0.8, max(step_v, step_h) / max(range, 1e-4));
    vec4 across = step_v > step_h ? 0.5 * (north + south) : 0.5 * (east + west);
    colour = mix(here, across, strength);
}
