"""How a remedy is taken: the trade's short form, read, completed and said in plain words."""
