"""The front door: where a pedal is started or opened."""
