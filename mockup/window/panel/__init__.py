"""The panel beside the picture: one file per section."""
