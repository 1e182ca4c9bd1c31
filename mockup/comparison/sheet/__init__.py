"""The sheet of a comparison: its pages, tables, marks and its web page."""
