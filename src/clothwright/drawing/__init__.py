"""How things look: pieces and lays made into neutral pictures."""
