"""Photos: read, flattened by marker sheets, and what is seen in them measured in mm."""
