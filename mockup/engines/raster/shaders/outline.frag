// A light line with a dark one either side, round what the mask holds: seen on any colour.
in vec2 vScreen;
out vec4 colour;
uniform sampler2D uMask;
uniform vec4 uMaskRect;    // x, y, width, height of the pane on the screen, px
uniform float uWide;       // px

void main() {
    vec2 at = (gl_FragCoord.xy - uMaskRect.xy) / uMaskRect.zw;
    vec2 texel = 1.0 / uMaskRect.zw;
    if (texture(uMask, at).r > 0.5) discard;
    float nearest = 99.0;
    for (int ring = 1; ring <= 3; ++ring) for (int k = 0; k < 12; ++k) {
        float angle = float(k) * 0.5235988, reach = uWide * float(ring);
        vec2 off = vec2(cos(angle), sin(angle)) * reach;
        if (texture(uMask, at + off * texel).r > 0.5) nearest = min(nearest, float(ring));
    }
    if (nearest > 3.5) discard;
    colour = nearest < 1.5 ? vec4(0.05, 0.05, 0.06, 0.75) : nearest < 2.5 ? vec4(1.0, 1.0, 1.0, 1.0) : vec4(0.05, 0.05, 0.06, 0.55);
}
