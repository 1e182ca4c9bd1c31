"""What the station Take away shows: the outputs as rows, the real page, what is under way."""
