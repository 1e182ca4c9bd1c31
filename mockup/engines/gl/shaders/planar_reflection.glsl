// The picture in a flat mirror: what stands before it, in place, and how far before it that is.
uniform sampler2D uMirror;          // premultiplied
uniform sampler2D uMirrorHeight;    // height (mm) times the cover beside it
uniform mat4 uMirrorView;           // world to clip where it was drawn

// Height of what is mirrored near a place of the picture; `known` where there is nothing.
float height_there(vec2 at, float level, float known) {
    vec4 high = textureLod(uMirrorHeight, at, level);
    return high.a > 0.03 ? high.r / high.a : known;
}
