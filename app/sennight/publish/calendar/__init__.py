"""Calendar files: written, recorded as published, and compared with a phone's export."""
