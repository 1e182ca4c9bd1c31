"""See the pedal before you drill it: true-to-size previews of hand-built effects pedals."""

__version__ = "0.1.0"
