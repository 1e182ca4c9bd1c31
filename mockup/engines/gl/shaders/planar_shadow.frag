flat in vec4 vWeight;
flat in float vDepth;     // exactly one value a sample; a divided z would differ in its last bit
out vec4 colour;

void main() {
    colour = vWeight;
    gl_FragDepth = vDepth;
}
