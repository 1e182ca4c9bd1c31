// Marks of turning: rings round an axis, each a narrow mirror that leans its own way across them.
#if MARKS
uniform vec3 uSpindle;            // a point on the axis, which is uAxis
uniform float uAcross;            // alpha of the leaning alone
#if SPUN
const float GAP = 0.11;           // a step's lobe, in steps: each of nine passes takes other places in them
#else
const float GAP = 1.0;            // the same where one pass must do: by eye
#endif

// What lobes of slope width w see when they lean across the marks: GGX's slopes along one line have the
// distribution 1/2 + s / sqrt(s^2 + alpha^2) / 2, taken here at even steps; a step's own width fills the gap.
vec3 mirror_anisotropic(vec3 p, vec3 n, vec3 r, vec3 v, float w, float closed) {
    vec4 panel = panel_under(p, n, r, w);
    panel.rgb /= closed;
    vec3 along = cross(uAxis, p - uSpindle);
    along /= max(length(along), 1e-4);
    vec3 across = cross(n, along), sum = vec3(0.0);
    float total = 1e-4, phase = fract(uPhase + 0.5);
    for (int k = 0; k < MARKS; ++k) {
        float u = 2.0 * (float(k) + phase) / float(MARKS) - 1.0, left = 1.0 - u * u;
        float lean = uAcross * u * inversesqrt(left);
        vec3 m = normalize(n + lean * across), leaned = reflect(-v, m);
        float weight = max(dot(v, m), 0.0) * step(0.0, dot(leaned, n));
        float wide = min(w + GAP * uAcross * inversesqrt(left) / left / float(MARKS), 1.0);
        sum += weight * behind(studio(p, n, leaned, wide, panel) * closed, p, n, leaned, w, weight > 0.0);
        total += weight;
    }
    return sum / total;
}
#endif
