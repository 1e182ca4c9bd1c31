"""Outlines, solids of revolution and booleans: numbers in, meshes out."""
