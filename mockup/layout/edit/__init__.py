"""Changes to a layout's own text, and the variants laid over it."""
