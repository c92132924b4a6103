"""When a coat can be put on: the hours of a forecast that allow it with its cure, and why the others do not."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.reports.plain import safe, wrapped

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from jurystrut.calculations.work_window import Window

__all__ = ["write_windows"]

_CAUTION = (
    "A forecast is no promise, and the surface may be colder than the air: "
    "measure before you begin, and go by the manual."
)


def write_windows(name: str, needs: Sequence[str], found: Sequence[Window]) -> str:
    """The windows for one product, with what it needs and where each limit comes from."""
    return "\n".join(_lines(name, needs, found)) + "\n"


def _lines(name: str, needs: Sequence[str], found: Sequence[Window]) -> Iterator[str]:
    yield safe(name)
    for need in needs:
        yield wrapped(need, "    ", "  ")
    yield ""
    for window in found:
        span = f"  {window.start:%a %Y-%m-%d %H:%M} to {window.end:%a %H:%M}  "
        yield wrapped("WORK" if not window.reasons else f"no: {', '.join(window.reasons)}", " " * 12, span)
    if all(window.reasons for window in found):
        yield "  No hour of this forecast allows it."
    yield ""
    yield wrapped(_CAUTION, "")
