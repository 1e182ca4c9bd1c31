// Unlit: the surface's own colour, nothing else.
in vec2 vUv;
out vec4 colour;
#include "paint.glsl"

void main() { colour = vec4(own_colour(vUv), 1.0); }
