"""Edits: what each does and says, and the one way in which they are written."""
