"""What the pointer does in the picture: one tool a file."""
