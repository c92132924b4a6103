"""Are bonds low in resistance, on clean metal, and where a charge may gather?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, fails, no_data, not_applicable, passes, rule
from jurystrut_rules.electrical.installed import Figure, inches, said, within

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from jurystrut.records.electrical import Electrical
    from jurystrut.records.installed import Bond, IsolatedPart

__all__ = [
    "bonds_are_clean",
    "bonds_are_low",
    "bonds_are_treated_soon",
    "bonds_avoid_magnesium",
    "bonds_use_no_self_tapping_screws",
    "charged_parts_are_bonded",
]

_MILLIOHMS = {
    "jumper": Figure(3.0, "mohm", "AC 43.13-1B 11-189, read: a jumper"),  # ac43-11-188-189
    "frame": Figure(2.5, "mohm", "AC 43.13-1B 11-188f, read: a frame of equipment"),  # ac43-11-188-189
}
_TREATED = Figure(24.0, "h", "AC 43.13-1B 11-189a, read")  # ac43-11-189-a
_STATIC_AREA = Figure(3.0, "in2", "AC 43.13-1B 11-187c, read")  # ac43-11-187-c
_STATIC_LENGTH = Figure(3.0, "in", "AC 43.13-1B 11-187c, read")  # ac43-11-187-c


def _each(electrical: Electrical, judge: Callable[[Bond], Finding], field: str) -> Iterator[Finding]:
    if not electrical.bonds:
        remedy = "Record 'bonds' with what was measured."
        yield no_data("aircraft", "no bond is recorded", electrical.at(), remedy=remedy)
    for bond in electrical.bonds:
        if getattr(bond, field) is None:
            yield no_data(bond.id, f"its {field} is not recorded", bond.at(), remedy=f"Record '{field}'.")
        else:
            yield judge(bond)


@rule(
    "electrical/bonding",
    title="Bonding resistance",
    asks="Is the measured resistance of every bond within the published figure?",
    references=("ac43-11-188-189",),
    due=Stage.SYSTEMS,
    remedy="Clean the faces to bare metal, fasten the bond anew and measure again.",
)
def bonds_are_low(electrical: Electrical) -> Iterator[Finding]:
    """A jumper has at most 0.003 ohm, a frame of equipment at most 0.0025 ohm to structure; both were read."""

    def judge(bond: Bond) -> Finding:
        assert bond.resistance is not None
        milliohms = bond.resistance.si * 1000
        return within(
            bond.id,
            milliohms,
            _MILLIOHMS[bond.kind],
            f"{milliohms:.4g} mohm across this {bond.kind}",
            bond.at("resistance"),
            remedy="Clean the faces to bare metal, fasten it anew and measure again.",
        )

    return _each(electrical, judge, "resistance")


@rule(
    "electrical/bond-faces",
    title="Bonds on bare metal",
    asks="Were paint and anodising taken off both faces of every bond?",
    references=("ac43-11-189-a",),
    due=Stage.SYSTEMS,
    remedy="Clean both faces to bare metal, treat them and measure again.",
)
def bonds_are_clean(electrical: Electrical) -> Iterator[Finding]:
    """Paint and anodising insulate; a bond that is low today through a scratch may not be so next year."""

    def judge(bond: Bond) -> Finding:
        bare = bool(bond.bare_metal)
        return said(
            bond.id,
            "both its faces were made bare metal" if bare else "a face of it was left painted or anodised",
            bond.at("bare_metal"),
            good=bare,
            source="AC 43.13-1B 11-189a, read",
            recorded=f"bare_metal: {str(bare).lower()}",
            wanted="paint and anodising removed",
            remedy="Clean both faces to bare metal, treat them and measure again.",
        )

    return _each(electrical, judge, "bare_metal")


@rule(
    "electrical/bond-treatment",
    title="Bonds treated within a day",
    asks="Were the bare faces of every bond treated within 24 hours?",
    references=("ac43-11-189-a",),
    due=Stage.SYSTEMS,
    remedy="Clean the faces anew and treat them the same day.",
)
def bonds_are_treated_soon(electrical: Electrical) -> Iterator[Finding]:
    """Bare metal begins to corrode at once; the time from cleaning to treating is recorded as `treated_within`."""

    def judge(bond: Bond) -> Finding:
        assert bond.treated_within is not None
        hours = bond.treated_within.to("h")
        message = f"treated {hours:g} h after it was made bare"
        remedy = "Clean the faces anew and treat them the same day."
        return within(bond.id, hours, _TREATED, message, bond.at("treated_within"), remedy=remedy)

    return _each(electrical, judge, "treated_within")


@rule(
    "electrical/bond-magnesium",
    title="No ground on magnesium",
    asks="Is no bond fastened directly to magnesium?",
    references=("ac43-11-189-a",),
    due=Stage.SYSTEMS,
    remedy="Fasten it to another metal.",
)
def bonds_avoid_magnesium(electrical: Electrical) -> Iterator[Finding]:
    """A fault current through a joint on magnesium can set it on fire, and the joint corrodes."""

    def judge(bond: Bond) -> Finding:
        return said(
            bond.id,
            f"fastened to {bond.onto}" if bond.onto != "other" else "fastened to a metal that is not magnesium",
            bond.at("onto"),
            good=bond.onto != "magnesium",
            source="AC 43.13-1B 11-189a, read",
            recorded=f"onto: {bond.onto}",
            wanted="no ground directly on magnesium",
            remedy="Fasten it to another metal.",
        )

    return _each(electrical, judge, "onto")


@rule(
    "electrical/bond-screws",
    title="No self-tapping screws",
    asks="Is no bond fastened by a self-tapping screw?",
    references=("ac43-11-188-e",),
    due=Stage.SYSTEMS,
    remedy="Fasten it with a bolt or a machine screw and a nut.",
)
def bonds_use_no_self_tapping_screws(electrical: Electrical) -> Iterator[Finding]:
    """A self-tapping screw holds on the edge of its thread alone and loosens."""

    def judge(bond: Bond) -> Finding:
        return said(
            bond.id,
            f"fastened by a {bond.fastened_by}",
            bond.at("fastened_by"),
            good=bond.fastened_by != "self-tapping-screw",
            source="AC 43.13-1B 11-188e, read",
            recorded=f"fastened_by: {bond.fastened_by}",
            wanted="no self-tapping screws for bonding",
            remedy="Fasten it with a bolt or a machine screw and a nut.",
        )

    return _each(electrical, judge, "fastened_by")


@rule(
    "electrical/static-bond",
    title="Parts that may be charged are bonded",
    asks="Has every isolated conducting part of more than 3 square inches and 3 inches a static bond?",
    references=("ac43-11-187-c",),
    due=Stage.SYSTEMS,
    remedy="Bond the part to structure.",
)
def charged_parts_are_bonded(electrical: Electrical) -> Iterator[Finding]:
    """Asked are parts recorded as isolated. One that is larger than both figures is bonded; one at a figure or below either is
    too small to matter. What resistance the bond may have was not read.
    """
    if not electrical.isolated_parts:
        message = "no isolated conducting part is recorded"
        yield no_data("aircraft", message, electrical.at(), remedy="Record 'isolated_parts', bonded or not.")
    for part in electrical.isolated_parts:
        yield _static(part)


def _static(part: IsolatedPart) -> Finding:
    if part.area is None or part.length is None:
        field = "area" if part.area is None else "length"
        return no_data(part.id, f"its {field} is not recorded", part.at(), remedy=f"Record its '{field}'.")
    area, length = part.area.to("in2"), inches(part.length)
    size = f"{area:g} in2 and {length:g} in"
    if area <= _STATIC_AREA.value or length <= _STATIC_LENGTH.value:
        return not_applicable(part.id, f"{size}: not more than both {_STATIC_AREA} and {_STATIC_LENGTH}", part.at())
    if part.bonded is None:
        return no_data(part.id, f"{size}; whether it is bonded is not recorded", part.at(), remedy="Record 'bonded'.")

    def working() -> list[str]:
        return [
            f"area: {area:g} in2, more than {_STATIC_AREA} ({_STATIC_AREA.source})",
            f"length: {length:g} in, more than {_STATIC_LENGTH} ({_STATIC_LENGTH.source})",
            f"recorded: bonded: {str(part.bonded).lower()}",
        ]

    if part.bonded:
        return passes(part.id, f"{size}, and bonded", part.at("bonded"), working=working)
    message = f"{size}, and not bonded"
    return fails(part.id, message, part.at("bonded"), remedy="Bond it to structure.", working=working)
