// The pedal thrown flat on the ground, once per light sample.
layout(location = 0) in vec3 position;

uniform mat4 uModel;            // the turntable: body to world
uniform mat4 uThrow[COPIES];    // world to the ground's picture, per light sample
uniform vec4 uWeight[COPIES];   // which channel counts the sample, and how much
uniform vec2 uOrder;            // depth of the first sample, and the step to the next; 0 to 1, falling

flat out vec4 vWeight;
flat out float vDepth;

void main() {
    vec4 at = uThrow[gl_InstanceID] * (uModel * vec4(position, 1.0));
    gl_Position = vec4(at.xy, 0.0, at.w);
    // each sample lies a little nearer than the last: it counts once however many triangles overlap
    vDepth = uOrder.x + uOrder.y * float(gl_InstanceID);
    vWeight = uWeight[gl_InstanceID];
}
