"""From a design to a scene: bodies, cameras and light."""
