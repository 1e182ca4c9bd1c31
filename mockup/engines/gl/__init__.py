"""The raster engine: the scene on the GPU, pass by pass."""
