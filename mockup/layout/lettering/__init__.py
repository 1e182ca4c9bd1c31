"""Labels, scales and borders: their tables, and where each stands."""
