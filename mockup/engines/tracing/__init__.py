"""The scene in the path tracer's terms."""
