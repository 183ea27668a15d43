"""Signs that need a doctor: asked, shown and referred."""
