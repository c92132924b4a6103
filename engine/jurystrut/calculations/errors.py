"""What calculations raise."""

from __future__ import annotations

__all__ = ["OutsideTable"]


class OutsideTable(ValueError):
    """A published table or curve does not cover the case; the message says what it covers. Nothing is extrapolated."""
