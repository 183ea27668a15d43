"""What tests share; README.md says which of them serves what."""
