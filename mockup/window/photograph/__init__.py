"""A photograph of the finished pedal: lines laid on the box's edges, the camera that follows, where it is shown."""
