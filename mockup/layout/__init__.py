"""From the text of a layout file to a design."""
