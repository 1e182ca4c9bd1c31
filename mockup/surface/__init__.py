"""What covers the box: artwork, paint and ink over paint."""
