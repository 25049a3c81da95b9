"""How the print meets along a seam: in which way, along which part of it, and how far out."""
