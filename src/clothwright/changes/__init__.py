"""Changes: one alteration each, a pattern in, a pattern out."""
