"""Work in the background: files watched and loaded, checks run, pictures saved."""
