"""What comes into the practice from outside: course files."""
