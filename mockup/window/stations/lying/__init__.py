"""What lies on a face, as sheets and marks: pictures, their film and what was loaded, words, scales and borders."""
