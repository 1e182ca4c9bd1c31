"""The front door: start a pedal, go on with one of yours, take an example apart."""
