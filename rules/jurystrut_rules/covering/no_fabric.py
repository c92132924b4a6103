"""Aircraft without fabric: rules on cloth, seams and laces do not ask them, though paint has its log too."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, not_applicable

if TYPE_CHECKING:
    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.covering import Covering

__all__ = ["no_fabric"]

_OTHERWISE = frozenset({"metal", "composite", "plywood"})


def no_fabric(aircraft: Aircraft, covering: Covering) -> Finding | None:
    """Not applicable, where the aircraft is recorded as covered with something else, and no fabric is recorded."""
    if aircraft.covering not in _OTHERWISE or covering.cloths:
        return None
    words = f"covered with {aircraft.covering}, and no fabric is recorded"
    return not_applicable("aircraft", words, aircraft.at("covering"))
