"""What a value is given with: a number in a row, the options of an output, a paint mixed or taken from a photograph."""
