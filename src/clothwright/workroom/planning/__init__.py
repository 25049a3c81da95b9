"""Plans: chosen, compared, made to fit, priced."""
