"""Files that others made, read in a process of their own."""
