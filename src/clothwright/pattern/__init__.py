"""What a pattern is: pieces, edges, notches, darts, seams; questions about them."""
