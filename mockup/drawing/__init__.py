"""Technical drawings at true size: unfolded faces, dimensions, tables, and the sheets that they are laid out on."""
