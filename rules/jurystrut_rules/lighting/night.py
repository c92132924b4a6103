"""Whether the lights must carry a flight by night."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from jurystrut.records.aircraft import Aircraft

__all__ = ["night_is_intended"]


def night_is_intended(aircraft: Aircraft) -> bool:
    """Whether night flight is intended; where no flights are recorded it may be."""
    return not aircraft.operations or "night-vfr" in aircraft.operations
