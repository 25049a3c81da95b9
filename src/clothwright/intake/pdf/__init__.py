"""PDF files with lines in them: one large page or many to be joined, layers, sizes, words."""
