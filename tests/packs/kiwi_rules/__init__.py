"""A pack of rules for another country, small and whole: New Zealand, as a club there might write it."""

from __future__ import annotations

from pathlib import Path

from jurystrut.rulebook import Pack

PACK = Pack(name="nz", authority="NZ", modules=("kiwi_rules.night",), sources=Path(__file__).parent / "sources")
