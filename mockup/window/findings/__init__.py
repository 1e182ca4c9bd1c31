"""What was found, as the builder meets it: causes, rings at the place and marks in the margin, remedies to try."""
