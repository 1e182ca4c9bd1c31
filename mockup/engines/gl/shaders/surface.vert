layout(location = 0) in vec3 position;
layout(location = 1) in vec3 normal;
layout(location = 2) in vec2 uv;

uniform mat4 uModel;      // the turntable: body to world
uniform mat4 uViewProj;   // world to clip, with the pass's jitter

invariant gl_Position;    // the depth pass must land on exactly the same depth
out vec3 vWorld;
out vec3 vBody;
out vec3 vNormal;
out vec2 vUv;

void main() {
    vec4 world = uModel * vec4(position, 1.0);
    vWorld = world.xyz;
    vBody = position;
    vNormal = mat3(uModel) * normal;
    vUv = uv;
    gl_Position = uViewProj * world;
}
