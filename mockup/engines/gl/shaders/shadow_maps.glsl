// Shadows: depth maps from jittered points of each lamp and directions of the room.
uniform sampler2DArrayShadow uShadow;
#if LAYERS
uniform mat4 uShadowMat[LAYERS];
#if SKIES
uniform vec3 uSkyWay[SKIES];      // towards the sky, unit
uniform vec3 uDeepWay;            // one from below, in the layer after the sky's
#endif
uniform vec2 uTap[TAPS];
uniform vec2 uTapRadius;          // mm on the surface: lamps, room
uniform float uSkyShare;          // solid angle of one direction / pi

float lit(int layer, vec3 p, vec3 t1, vec3 t2) {
    mat4 m = uShadowMat[layer];
    vec4 c = m * vec4(p, 1.0), c1 = m * vec4(t1, 0.0), c2 = m * vec4(t2, 0.0);
    float sum = 0.0;
    for (int k = 0; k < TAPS; ++k) {
        vec4 q = c + uTap[k].x * c1 + uTap[k].y * c2;
        sum += texture(uShadow, vec4(q.xy / q.w, float(layer), q.z / q.w));
    }
    return sum / float(TAPS);
}
#else
float lit(int layer, vec3 p, vec3 t1, vec3 t2) { return 1.0; }
#endif
