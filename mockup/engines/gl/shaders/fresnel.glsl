// Share of uniform light that a GGX surface mirrors: (scale, offset) on F0.
// Karis, "Physically Based Shading on Mobile" (2014), analytic fit.
vec2 mirrored(float roughness, float nv) {
    vec4 r = roughness * vec4(-1.0, -0.0275, -0.572, 0.022) + vec4(1.0, 0.0425, 1.04, -0.04);
    float a = min(r.x * r.x, exp2(-9.28 * nv)) * r.x + r.y;
    return vec2(-1.04, 1.04) * a + r.zw;
}

// Share of uniform light that a GGX metal of reflectance 1 mirrors; fitted by us to sampled visible normals
// (Heitz 2018, Smith's masking): error below 0.045 up to roughness 0.7, 0.02 on average.
float metal_mirrored(float roughness, float nv) {
    float a = roughness * roughness, m = 1.0 - nv;
    return 1.0 - a * (0.0765 + m * (0.4515 + 0.7402 * m) + a * (0.875 - m * (0.1811 + 2.8069 * m) + 0.479 * a));
}

// Fresnel's own equations for index 1.5, over Schlick's curve: up to a third more at middle angles.
float fresnel_over_schlick(float c) {
    float g = sqrt(1.25 + c * c);                     // n^2 - 1 + c^2, n = 1.5
    float s = (c - g) / (c + g), p = (2.25 * c - g) / (2.25 * c + g);
    float m = 1.0 - c, m2 = m * m;
    return 0.5 * (s * s + p * p) / (0.04 + 0.96 * m2 * m2 * m);
}

// Fresnel's own equations for index 1.5.
float fresnel(float c) {
    float m = 1.0 - c, m2 = m * m;
    return (0.04 + 0.96 * m2 * m2 * m) * fresnel_over_schlick(c);
}

// Share of uniform light that lacquer or paint of index 1.5 mirrors; fitted by us to sampled visible normals
// (Heitz 2018, Smith's masking): 4 % off on average, 15 % at most.
float glossed(float roughness, float nv) {
    float a = roughness * roughness, m = 1.0 - nv;
    return fresnel(min(nv + 1.816 * a * m * m, 1.0)) / (1.0 + a * (0.064 - m * (1.646 + 0.595 * m) + 1.971 * a));
}

// Share of light that paint scatters, of its colour, for the cosines of its way in and out and that between both:
// Burley, "Physically-Based Shading at Disney" (2012); 0.96 is what enters it.
float scattered(float cos_in, float cos_out, float between, float roughness) {
    float i = 1.0 - cos_in, o = 1.0 - cos_out, i2 = i * i, o2 = o * o, i5 = i2 * i2 * i, o5 = o2 * o2 * o;
    float back = roughness * (1.0 + between);
    return 0.96 * ((1.0 - 0.5 * i5) * (1.0 - 0.5 * o5) + back * (i5 + o5 + i5 * o5 * (back - 1.0)));
}

// The same of paint with flakes in it under lacquer, index 1.5: in, many times within (Egan and Hilgeman 1973) and out.
float scattered_under(float cos_in, float cos_out) {
    float i = 1.0 - cos_in, o = 1.0 - cos_out, i2 = i * i, o2 = o * o;
    float back_in = (0.04 + 0.96 * i2 * i2 * i) * fresnel_over_schlick(cos_in);
    float back_out = (0.04 + 0.96 * o2 * o2 * o) * fresnel_over_schlick(cos_out);
    return 1.1 * (1.0 - back_in) * (1.0 - back_out);  // 1 / (n^2 (1 - 0.596))
}
