"""What covers the box: film with art and lettering, and ink over paint."""
