"""Tools of the house: pages made from the code."""
