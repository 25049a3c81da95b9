"""Long computing: lays, spread over cores and machines."""
