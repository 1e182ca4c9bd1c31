"""Lettering in pictures, found and read by a small trained model, whatever ground it stands on."""
