"""What is cut from: cloths, their print, and placing rules."""
