"""Pedals side by side: what they look like, what differs, what the checks say of each."""
