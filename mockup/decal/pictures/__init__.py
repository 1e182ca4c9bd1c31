"""Picture files: the kinds that are read, their colours and layers, SVG drawn at its size, and what shows damage."""
