"""What the cards are made of: a surface of type and spaces, widgets, tiles, marks, tags, tips, and dialogs."""
