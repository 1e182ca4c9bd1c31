"""What both engines ask of a scene: grain, film, glow, lenses, surroundings."""
