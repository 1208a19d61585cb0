"""Sheets: a scene in real inches, its backends, and the pack made of them."""
