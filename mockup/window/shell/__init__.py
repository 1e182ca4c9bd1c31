"""The window itself: the system's window and its events, where cards lie, its theme and its type."""
