"""The work in hand, and what goes on beside the window: files watched and loaded, checks run, places looked for."""
