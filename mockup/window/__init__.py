"""The window: what it shows, how it is steered, and how what is changed gets back into the layout file."""
