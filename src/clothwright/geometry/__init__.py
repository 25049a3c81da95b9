"""Shapes in millimetres; knows nothing of sewing. y is up, counter-clockwise is positive."""
