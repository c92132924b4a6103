"""The electrical records as trees for the one-line diagram: one sheet from the sources to the buses, and one a bus."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from jurystrut.drawings.one_line import Node, one_line, rows_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.drawings.svg import Svg
    from jurystrut.records.electrical import Electrical

__all__ = ["Sheet", "sheets"]

_MOST_ROWS = 16
"""Rows of one sheet; more are continued on the next, so that two fit on a printed page."""
_MOST_SHEETS = 60


class Sheet(NamedTuple):
    """One sheet of the diagram."""

    title: str
    drawing: Svg


def sheets(electrical: Electrical, network: Any) -> list[Sheet]:
    """The whole diagram: sources first, then each bus, each no longer than a page; no more than sixty of them."""
    roots = _Trees(electrical, network).roots()
    found: list[Sheet] = []
    for root in roots:
        pieces = list(_pieces(root))
        for number, piece in enumerate(pieces[: _MOST_SHEETS - len(found)], start=1):
            title = root.name + (f", part {number} of {len(pieces)}" if len(pieces) > 1 else "")
            drawn = one_line(f"one-line-{len(found)}", f"One-line diagram: {title}", piece)
            found.append(Sheet(title, drawn))
    return found


def _pieces(root: Node) -> Iterator[Node]:
    """The root with as many of its children at a time as fit on a sheet, shared evenly."""
    sheets_needed = -(-rows_of(root) // _MOST_ROWS)
    most = -(-rows_of(root) // sheets_needed)
    batch: list[Node] = []
    rows = 0
    for child in root.children:
        needed = rows_of(child)
        if batch and rows + needed > most:
            yield _with(root, batch)
            batch, rows = [], 0
        batch.append(child)
        rows += needed
    yield _with(root, batch)


def _with(root: Node, children: list[Node]) -> Node:
    """The same root with other children."""
    return Node(root.kind, root.name, root.detail, root.wire, tuple(children))


class _Branch:
    """A node while its children are still being found."""

    def __init__(self, kind: Any, name: str, detail: str = "", wire: str = "") -> None:
        self.kind, self.name, self.detail, self.wire = kind, name, detail, wire
        self.sheet = self
        self.children: list[_Branch] = []


class _Trees:
    """Walks the network from its sources, breadth first, and breaks it at the buses."""

    def __init__(self, electrical: Electrical, network: Any) -> None:
        self.network = network
        self.wires = {wire.id: wire for wire in electrical.wires}
        self.devices: dict[str, Any] = {
            device.id: device
            for devices in (
                *(electrical.sources, electrical.buses, electrical.protection),
                *(electrical.switches, electrical.diodes, electrical.loads),
            )
            for device in devices
        }
        self.buses = {bus.id for bus in electrical.buses}
        self.loads: dict[str, list[Any]] = {}
        for sink in network.sinks:
            self.loads.setdefault(sink.point, []).append(sink)
        self.at: dict[str, _Branch] = {}
        self.used: set[int] = set()

    def roots(self) -> list[Node]:
        """Sources, then buses in the order in which current reaches them."""
        roots: list[_Branch] = []
        pending: list[tuple[str, str]] = []
        for supply in self.network.supplies:
            branch = _Branch("source", supply.id, _detail(self.devices.get(supply.id)))
            self.at[supply.point] = branch
            roots.append(branch)
            pending.append((supply.point, ""))
        for point, wire in pending:  # grows while it is walked: breadth first
            self._loads_at(point, wire)
            pending += self._onward(point, wire, roots)
        return [_frozen(root) for root in roots if root.children]

    def _loads_at(self, point: str, wire: str) -> None:
        for sink in self.loads.get(point, ()):
            load = self.devices.get(sink.id)
            what = getattr(load, "what", None)
            words = f"{sink.current:g} A" + (f"  {what}" if what else "")
            self.at[point].children.append(_Branch("load", sink.id, words, wire))

    def _onward(self, point: str, wire: str, roots: list[_Branch]) -> Iterator[tuple[str, str]]:
        """The points behind one point, each hung under its device; what leads to a point already drawn becomes a flag."""
        for other, index in self.network.near(point):
            edge = self.network.edges[index]
            if index in self.used or edge.passes(point) <= 0:
                continue
            self.used.add(index)
            under = self.at[point]
            through = wire
            if edge.kind in {"wire", "link"}:
                through = self._wire_words(edge) or wire
            else:
                under = self._hang(under, edge, wire)
                through = ""
            if other in self.at:
                under.children.append(self._meets(under, self.at[other], through))
            elif other in self.buses:
                self._to_bus(other, under, through, roots)
                yield other, ""
            else:
                self.at[other] = under
                yield other, through

    def _hang(self, under: _Branch, edge: Any, wire: str) -> _Branch:
        branch = _Branch(edge.kind, edge.id, _detail(self.devices.get(edge.id)), wire)
        branch.sheet = under.sheet
        under.children.append(branch)
        return branch

    def _meets(self, under: _Branch, there: _Branch, wire: str) -> _Branch:
        """A flag where current could also come from what is drawn elsewhere, or go there."""
        sheet = there.sheet
        if sheet is under.sheet:
            return _Branch("flag", there.name, "joined there, on this sheet", wire)
        words = "bus, see its own sheet" if sheet.kind == "bus" else "source, see its own sheet"
        return _Branch("flag", sheet.name, words, wire)

    def _to_bus(self, bus: str, under: _Branch, wire: str, roots: list[_Branch]) -> None:
        under.children.append(_Branch("flag", bus, "bus, see its own sheet", wire))
        root = _Branch("bus", bus, _detail(self.devices.get(bus)))
        self.at[bus] = root
        roots.append(root)

    def _wire_words(self, edge: Any) -> str:
        wire = self.wires.get(edge.id)
        return f"{edge.id} {wire.size or ''}".strip() if wire else ""


def _detail(device: Any) -> str:
    rating = getattr(device, "rating", None)
    capacity = getattr(device, "capacity", None)
    return str(rating or capacity or "")


def _frozen(root: _Branch) -> Node:
    """The finished tree, from its ends up; without recursion, since a chain may be as long as the records like."""
    order, waiting = [], [root]
    while waiting:
        here = waiting.pop()
        order.append(here)
        waiting += here.children
    done: dict[int, Node] = {}
    for branch in reversed(order):
        children = tuple(done[id(child)] for child in branch.children)
        done[id(branch)] = Node(branch.kind, branch.name, branch.detail, branch.wire, children)
    return done[id(root)]
