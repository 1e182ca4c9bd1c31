// Where the chosen part is.
out vec4 colour;

void main() { colour = vec4(1.0); }
