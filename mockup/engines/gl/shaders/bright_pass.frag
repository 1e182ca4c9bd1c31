// Light above white in one cell of the picture, row 0 at the top: what the glow is made of.
in vec2 vScreen;
out vec4 colour;
uniform sampler2D uPass;
uniform float uGain;
uniform int uCell;        // px
uniform float uMost;

void main() {
    ivec2 size = textureSize(uPass, 0), cell = ivec2(gl_FragCoord.xy);
    vec3 sum = vec3(0.0);
    for (int y = 0; y < uCell; ++y) for (int x = 0; x < uCell; ++x) {
        ivec2 at = cell * uCell + ivec2(x, y);
        if (at.x >= size.x || at.y >= size.y) continue;
        vec3 c = texelFetch(uPass, ivec2(at.x, size.y - 1 - at.y), 0).rgb * uGain;
        float peak = max(max(c.r, c.g), c.b);
        if (peak > 1.0) sum += min(c * (peak - 1.0) / peak, vec3(uMost));
    }
    colour = vec4(sum / float(uCell * uCell), 1.0);
}
