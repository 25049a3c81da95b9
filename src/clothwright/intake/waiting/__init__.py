"""Drawings that wait for answers: what was answered, and what they would become."""
