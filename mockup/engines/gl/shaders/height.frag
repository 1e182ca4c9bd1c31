// Height over the ground, and that there is something.
in vec3 vWorld;
out vec4 colour;
uniform float uGroundZ;

void main() { colour = vec4(vWorld.z - uGroundZ, 0.0, 0.0, 1.0); }
