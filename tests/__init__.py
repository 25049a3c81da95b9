"""The tests mirror src/clothwright, file for file."""
