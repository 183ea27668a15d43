"""Bytes as they are kept: compressed."""

from __future__ import annotations

import hashlib
import zlib

from sennight.store.errors import UnreadablePaperError


def packed(content: bytes) -> bytes:
    """The bytes to keep; the same ones for the same content."""
    return zlib.compress(content, 6)


def unpacked(kept: bytes) -> bytes:
    """The content of what was kept; raises UnreadablePaperError where it cannot be read."""
    try:
        return zlib.decompress(kept)
    except zlib.error:
        raise UnreadablePaperError("it cannot be unpacked") from None


def fits(kept: bytes, digest: str) -> bool:
    """Whether what was kept can be read and is what the digest was made of."""
    try:
        return hashlib.sha256(unpacked(kept)).hexdigest() == digest
    except UnreadablePaperError:
        return False
