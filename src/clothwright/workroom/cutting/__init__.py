"""At the table: printing, ticks."""
