"""What covers the box: artwork, lettering, and ink over paint."""
