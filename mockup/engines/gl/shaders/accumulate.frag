// Adds one pass to the running mean (the blend factors do the adding).
in vec2 vScreen;
out vec4 colour;
uniform sampler2D uPass;
uniform float uShare;

void main() { colour = texelFetch(uPass, ivec2(gl_FragCoord.xy), 0) * uShare; }
