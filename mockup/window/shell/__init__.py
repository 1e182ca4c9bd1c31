"""The window itself: its host, its panes, its theme, and what is drawn over the picture."""
