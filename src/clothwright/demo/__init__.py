"""Our own drafted pieces and cloths, made by code."""
