"""What stands in the way, as cards: their rings in the picture, remedies tried, and all cured at once."""
