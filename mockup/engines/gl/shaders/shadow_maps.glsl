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

// The same taps at every pixel draw the same blotches; in a picture of many passes each pixel turns them its own way.
// In a single pass four neighbours turn them by a quarter each and share what they read.
mat2 spin() {
#if SINGLE
    vec2 odd = mod(floor(gl_FragCoord.xy), 2.0);
    vec2 turn = odd.x == odd.y ? vec2(1.0 - 2.0 * odd.x, 0.0) : vec2(0.0, 1.0 - 2.0 * odd.x);
    return mat2(turn.x, turn.y, -turn.y, turn.x);
#elif SPUN
    float a = 6.2831853 * fract(52.9829189 * fract(dot(floor(gl_FragCoord.xy), vec2(0.06711056, 0.00583715))));
    return mat2(cos(a), sin(a), -sin(a), cos(a));
#else
    return mat2(1.0);
#endif
}

// The mean of a value over the two by two pixels that GL shades together.
float shared_by_four(float here) {
#if SINGLE
    vec2 inward = 0.5 - mod(floor(gl_FragCoord.xy), 2.0);
    here += inward.x * dFdx(here);
    here += inward.y * dFdy(here);
#endif
    return here;
}

float lit(int layer, vec3 p, vec3 t1, vec3 t2) {
    mat4 m = uShadowMat[layer];
    vec4 c = m * vec4(p, 1.0), c1 = m * vec4(t1, 0.0), c2 = m * vec4(t2, 0.0);
    float sum = 0.0;
    mat2 turn = spin();
    for (int k = 0; k < TAPS; ++k) {
        vec2 tap = turn * uTap[k];
        vec4 q = c + tap.x * c1 + tap.y * c2;
        sum += texture(uShadow, vec4(q.xy / q.w, float(layer), q.z / q.w));
    }
    return sum / float(TAPS);
}
#else
float shared_by_four(float here) { return here; }
float lit(int layer, vec3 p, vec3 t1, vec3 t2) { return 1.0; }
#endif
