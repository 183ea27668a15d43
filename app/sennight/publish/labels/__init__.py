"""Labels of what is dispensed, on sheets and on rolls."""
