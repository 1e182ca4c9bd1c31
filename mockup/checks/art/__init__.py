"""What is drawn on the pedal: ink, words, strokes, colours and rings."""
