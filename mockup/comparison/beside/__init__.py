"""A photograph of the finished pedal beside its picture, taken with the photograph's own camera."""
