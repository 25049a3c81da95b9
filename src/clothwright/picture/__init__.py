"""The neutral picture: strokes, fills and texts in millimetres, each with a role."""
