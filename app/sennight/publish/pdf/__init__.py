"""What all printed papers share, and the practitioner's papers."""
