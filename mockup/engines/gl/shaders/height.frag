// Height before a mirror, and that there is something.
in vec3 vWorld;
out vec4 colour;
uniform vec4 uPlane;               // the mirror's: unit normal, offset

void main() { colour = vec4(dot(uPlane, vec4(vWorld, 1.0)), 0.0, 0.0, 1.0); }
