"""What the window can do: one table of actions, a file for each group, read by keys, buttons and help."""
