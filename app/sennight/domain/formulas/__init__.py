"""The arithmetic of formulas: shares, strengths, doses by age, balancing, topping up."""
