// A light line with a dark one either side, round what the mask holds: seen on any colour.
in vec2 vScreen;
out vec4 colour;
uniform sampler2D uMask;
uniform vec4 uMaskRect;    // x, y, width, height of the pane on the screen, px
uniform float uWide;       // px

void main() {
    vec2 at = (gl_FragCoord.xy - uMaskRect.xy) / uMaskRect.zw;
    vec2 texel = 1.0 / uMaskRect.zw;
    float here = texture(uMask, at).r;
    float away = 99.0;     // px to the mask's edge
    for (int ring = 1; ring <= 4; ++ring) for (int k = 0; k < 12; ++k) {
        float angle = (float(k) + 0.5 * float(ring & 1)) * 0.5235988, reach = 0.85 * uWide * float(ring);
        float seen = texture(uMask, at + vec2(cos(angle), sin(angle)) * reach * texel).r;
        if (seen > 0.02) away = min(away, reach + 0.5 - seen);
    }
    float line = 1.0 - smoothstep(0.5 * uWide, 0.5 * uWide + 1.0, abs(away - 1.7 * uWide));
    float dark = 1.0 - smoothstep(3.0 * uWide, 3.0 * uWide + 1.0, away);
    float alpha = max(line, 0.62 * dark) * (1.0 - here);
    if (alpha < 0.01) discard;
    colour = vec4(mix(vec3(0.05), vec3(1.0), line), alpha);
}
