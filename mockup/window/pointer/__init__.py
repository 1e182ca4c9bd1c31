"""From the pointer to the pedal: rays, the camera that goes round, snapping, measuring."""
