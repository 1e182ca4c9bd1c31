// Waviness of paint or casting: slopes from a picture that repeats, in face millimetres.
#if WAVED
uniform sampler2D uWaves;         // slope along u, along v; the two squared and added up
uniform float uWavesMm;           // after which it repeats

// The normal n leaning as the waves slope; lost: mean square of the slopes that a pixel does not resolve.
vec3 waved(vec3 n, vec2 uv, vec3 along_u, vec3 along_v, out float lost) {
    // a single look at each pixel draws slopes as wide as two, or paint looks like leather: by eye
    vec3 waves = texture(uWaves, uv / uWavesMm, uSharper + float(SINGLE)).xyz;
    lost = max(waves.z - dot(waves.xy, waves.xy), 0.0);
    vec3 rises = along_u * waves.x + along_v * waves.y;
    rises *= step(dot(along_u, along_u) + dot(along_v, along_v), 4.0);   // a lid's rim: its coordinates stand still
    return normalize(n - rises + n * dot(rises, n));
}
#endif

// A perceptual roughness with the slopes that a pixel does not resolve: GGX's alpha squared is twice their variance
// along one way, so once the sum of both ways.
float widened(float roughness, float dents_lost, float waves_lost) {
    float alpha = roughness * roughness + dents_lost;
    return sqrt(sqrt(alpha * alpha + waves_lost));
}
