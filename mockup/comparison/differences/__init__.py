"""What differs between two pedals, as data and in words."""
