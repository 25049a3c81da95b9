"""Undo and redo that outlast a restart."""
