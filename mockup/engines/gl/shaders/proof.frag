// Unlit: the surface's own colour, nothing else.
in vec2 vUv;
out vec4 colour;
#include "base_colour.glsl"

void main() { colour = vec4(own_colour(vUv), 1.0); }
