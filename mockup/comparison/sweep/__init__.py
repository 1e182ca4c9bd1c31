"""One layout over lists of values: every combination pictured, measured and ranked."""
