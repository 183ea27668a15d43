"""The dispensary: stock by supplier's batch, what is prepared from it, its cost and its label."""
