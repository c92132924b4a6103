"""One way to tell what was measured against what was promised."""

from __future__ import annotations

__all__ = ["Promises"]


class Promises:
    """Prints each measure beside its promise and counts those not kept, the exit status of a benchmark."""

    def __init__(self) -> None:
        self.broken = 0

    def hold(self, what: str, measured: float, most: float, of: str = "") -> None:
        """Print one measure, after the figures that it was taken `of`; beyond `most` it is broken."""
        kept = measured <= most
        self.broken += not kept
        figures = f"{of} = " if of else ""
        print(f"{what}: {figures}{measured:.3f}, promised at most {most:g}{'' if kept else ': BROKEN'}", flush=True)
