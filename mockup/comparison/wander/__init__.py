"""What a hand's errors do to a pedal: tries by seeded chance, and what they cost."""
