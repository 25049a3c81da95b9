"""What the trial garment showed, and the changes that answer it."""
