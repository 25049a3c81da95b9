"""Getting the pieces in: files, photos, typed measurements; seams and sizes."""
