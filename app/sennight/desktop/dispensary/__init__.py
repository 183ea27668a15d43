"""The dispensary in the window: what is in stock, what was prepared, and who got it."""
