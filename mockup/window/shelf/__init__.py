"""The shelf of thumbnails: what can be pictured small, drawing it beside the window, keeping it on disk and at hand."""
