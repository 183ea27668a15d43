"""The place of the protocols: the shelf, and the editor of one of them."""
