"""What the window saves: outputs, their options and their pages as they will be, each made in a process of its own."""
