"""Pages that are tiles of one drawing, joined (being written by the lead: leave this file alone)."""
