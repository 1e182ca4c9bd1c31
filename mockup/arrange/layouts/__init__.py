"""Layouts for a list of controls: the list read, rows by the schemes of the trade, the sides, and the best proven."""
