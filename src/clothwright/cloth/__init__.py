"""What it is cut from: the cloth, its print, and what a plan asks of the print."""
