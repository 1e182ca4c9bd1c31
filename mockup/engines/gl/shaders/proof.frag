// Unlit: the surface's own colour, nothing else.
in vec3 vBody;
in vec2 vUv;
out vec4 colour;
#include "base_colour.glsl"
#include "seam.glsl"

void main() { colour = vec4(own_colour(vUv) * beside_seam(vBody.z, max(fwidth(vBody.z), 1e-4)), 1.0); }
