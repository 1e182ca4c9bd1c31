"""What pages are made of: presses, guide lines, words of the log."""
