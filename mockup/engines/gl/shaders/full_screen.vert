// One triangle over the whole target.
out vec2 vScreen;

void main() {
    vec2 p = vec2((gl_VertexID << 1) & 2, gl_VertexID & 2);
    vScreen = p;
    gl_Position = vec4(2.0 * p - 1.0, 0.0, 1.0);
}
