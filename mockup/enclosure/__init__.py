"""The box: its table of sizes and its shell."""
