"""The diary sheet: boxes that a client ticks, made to be read from a photo as well."""
