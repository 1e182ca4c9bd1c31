out vec4 colour;
uniform vec4 uWeight;     // which channel counts this light sample, and how much

void main() { colour = uWeight; }
