"""Records out of a hat: well-formed ones for every model, and texts of YAML that are broken in every way one can think of.

All chance comes from one `random.Random`, so that hypothesis can shrink what it finds and a seed brings it back.
"""

from __future__ import annotations

import enum
import json
import types
from typing import TYPE_CHECKING, Any, Literal, Union, get_args, get_origin

from jurystrut.quantities import Gauge, Quantity, Range, Tolerance
from jurystrut.quantities.units import table
from jurystrut.reading.sections import record_in, record_lists
from jurystrut.records import LISTS, SECTIONS, section_model
from jurystrut.records.base import Record
from jurystrut.records.electrical import Device
from jurystrut.records.fields import Names

if TYPE_CHECKING:
    from collections.abc import Iterator
    from random import Random

__all__ = ["mutated", "nasty", "one_record", "sound_records", "spoilt_bytes", "written"]

_WORDS = ("x", "main bus", "no", "12:30", "°C ± 2", "a # b", "- a", "EXPERIMENTAL", "100LL", "null x")
_NUMBERS = ("0", "1", "2", "3.5", "14", "60", "250", "1320", "0.001", "999999", "1e-12", "1e12", "3-1/8", "1/16", "-4")
_DAYS = ("1999-12-31", "2026-05-03", "2026-11-25", "2100-01-01", "0001-01-01", "9999-12-31")
_NASTY = (
    *("", " ", "~", "null", "yes", "010", "0x1F", "1_000", ".nan", "-.inf", "1e999", "9" * 5000, "1" + ":59" * 400),
    *(
        "5'3\"",
        "1,5 lb",
        "9**9**9 m",
        "1 m/0",
        "\u22125 in",
        "-5 in",
        "5 nm",
        "1 000 lb",
        "2026-02-30",
        "24:00",
        "W1\n",
    ),
    *(
        "../x",
        "/etc/passwd",
        "\u202ex",
        "\x1b[31m",
        "\0",
        "\ud800",
        "\ufeff",
        "e\u0301",
        "\u2028",
        "x" * 70_000,
        "%s{0}",
    ),
    *("!!python/name:os.system", "*a", "&a", "<<", "=", "::error::x", "##[x]", "</script>", "a|b", "`x`", "@x", "?"),
)


def sound_records(random: Random) -> dict[str, Any]:
    """Sections with records as their models want them; names of other records lead to records that are there."""
    chosen = {"aircraft", *random.sample(sorted(SECTIONS), random.randint(0, len(SECTIONS)))}
    pool: dict[str, list[str]] = {}
    for section in sorted(chosen):
        for name in ("",) if section in LISTS else record_lists(section_model(section)):
            ids = [f"{name or section}-{i}" for i in range(random.choice((0, 1, 2, 5)))]
            pool[f"{section}.{name}" if name else section] = ids
            if name:
                pool.setdefault(section, []).extend(ids)
    return {section: _section(section, random, pool) for section in sorted(chosen)}


def one_record(model: type[Record], random: Random) -> dict[str, Any]:
    """One record as its model wants it; where it names others, they are there."""
    names = {target: ["A", "B"] for mark in _marks(model) for target in mark.targets}
    return _record(model, random, names, f"made-{random.randint(0, 99)}")


def _marks(model: type[Record]) -> Iterator[Names]:
    """What the fields of a record, and of the records in it, name."""
    for info in model.model_fields.values():
        inner = record_in(info.annotation)
        if inner is not None:
            yield from _marks(inner)
        marks = [*info.metadata, *(m for a in get_args(info.annotation) for m in getattr(a, "__metadata__", ()))]
        yield from (mark for mark in marks if isinstance(mark, Names))


def _section(section: str, random: Random, pool: dict[str, list[str]]) -> Any:
    model = section_model(section)
    if section in LISTS:
        return [_record(model, random, pool, id_) for id_ in pool[section]]
    made = _record(model, random, pool, None)
    for name, inner in record_lists(model).items():
        made[name] = [_record(inner, random, pool, id_) for id_ in pool[f"{section}.{name}"]]
    return made


def _record(model: type[Record], random: Random, pool: dict[str, list[str]], id_: str | None) -> dict[str, Any]:
    made: dict[str, Any] = {}
    for name, info in model.model_fields.items():
        if name == "where" or (not info.is_required() and random.random() < 0.4):
            continue
        written = info.alias or name
        value = id_ if written == "id" and id_ else _value(info.annotation, info.metadata, random, pool)
        if value is not None:
            made[written] = value
    return made


def _value(annotation: Any, metadata: Any, random: Random, pool: dict[str, list[str]]) -> Any:  # noqa: C901
    if hasattr(annotation, "__metadata__"):
        return _value(annotation.__origin__, (*metadata, *annotation.__metadata__), random, pool)
    origin, arguments = get_origin(annotation), get_args(annotation)
    if origin in {Union, types.UnionType}:
        return _value(random.choice([a for a in arguments if a is not type(None)]), metadata, random, pool)
    if origin is tuple:
        count = random.randint(1, 4) if arguments[-1] is ... else len(arguments)
        return [_value(arguments[0 if arguments[-1] is ... else i], metadata, random, pool) for i in range(count)]
    if origin is dict:
        keys = [_value(arguments[0], metadata, random, pool) for _ in range(random.randint(0, 3))]
        return {key: _value(arguments[1], (), random, pool) for key in keys if isinstance(key, str)}
    if origin is Literal:
        return random.choice(arguments)
    if origin in {Range, Tolerance}:
        return _spread(arguments[0], ".." if origin is Range else " ± ", random)
    if isinstance(annotation, type):
        if issubclass(annotation, Record):
            return _record(annotation, random, pool, None)
        if issubclass(annotation, enum.Enum):
            return random.choice([member.value for member in annotation])
        if issubclass(annotation, Quantity):
            return _quantity(annotation, random)
        if issubclass(annotation, Gauge):
            return f"{random.choice(('4/0', '1/0', '2', '10', '18', '22', '30'))} AWG"
    return _plain(annotation, metadata, random, pool)


def _quantity(kind: Any, random: Random) -> str:
    if random.random() < 0.5:
        return str(kind.example)
    number = random.choice(_NUMBERS if kind.signed else _NUMBERS[:-1])
    return f"{number} {random.choice(sorted(table()[kind.dimension]))}"


def _spread(kind: Any, between: str, random: Random) -> str:
    low, high = sorted((random.randint(0, 100), random.randint(0, 100)))
    numbers = (low, high) if between == ".." else (high, low)
    return f"{numbers[0]}{between}{numbers[1]} {random.choice(sorted(table()[kind.dimension]))}"


def _plain(annotation: Any, metadata: Any, random: Random, pool: dict[str, list[str]]) -> Any:
    names = next((mark for mark in metadata if isinstance(mark, Names)), None)
    if names and names.targets:
        lists = record_lists(section_model("electrical")) if names.terminal and "electrical.wires" in pool else {}
        devices = [f"electrical.{name}" for name, model in lists.items() if issubclass(model, Device)]
        ids = [id_ for target in devices or names.targets for id_ in pool.get(target, ())]
        return random.choice(ids) if ids else None
    checks = [getattr(getattr(mark, "read", None), "__name__", "") for mark in metadata]
    by_check = {
        "_id": f"made-{random.randint(0, 10**6)}",
        "_country": random.choice(("US", "CA", "GB", "EU", "XX")),
        "_day": random.choice(_DAYS),
        "_instant": f"{random.choice(_DAYS)} {random.randint(0, 23):02}:{random.randint(0, 59):02}",
        "_file_path": "evidence/x.txt",
        "_count": str(random.choice((0, 1, 2, 40, 999_999_999))),
        "_number": random.choice(("0", "1.5", "-2", "999999999999")),
        "_flag": random.choice(("yes", "no", "true", "false")),
    }
    return next((by_check[check] for check in checks if check in by_check), random.choice(_WORDS))


def nasty(random: Random) -> str:
    """A text that has hurt some reader."""
    return random.choice(_NASTY)


def mutated(tree: Any, random: Random) -> Any:
    """The tree with one part changed: lost, doubled, renamed, moved, emptied, deepened, or replaced by a nasty text."""
    holders = [holder for holder in _holders(tree) if holder]
    if not holders:
        return nasty(random)
    holder = random.choice(holders)
    keys = list(holder) if isinstance(holder, dict) else range(len(holder))
    key = random.choice(keys)
    match random.randint(0, 8):
        case 0:
            del holder[key]
        case 1 if isinstance(holder, dict):
            holder[random.choice([*keys, "id", "what", "@where", "@wher", nasty(random)])] = holder.pop(key)
        case 2 if isinstance(holder, list):
            holder.extend([holder[key]] * random.choice((1, 2, 300)))
        case 3:
            holder[key] = random.choice((None, [], {}, "", [[]], {"id": "x"}))
        case 4:
            other = random.choice(holders)
            holder[key] = json.loads(
                json.dumps(random.choice(list(other.values() if isinstance(other, dict) else other)))
            )
        case 5:
            for _ in range(random.choice((1, 3, 60))):
                holder[key] = [holder[key]] if random.random() < 0.5 else {"x": holder[key]}
        case 6 if isinstance(holder[key], str):
            text = holder[key]
            at = random.randint(0, len(text))
            holder[key] = text[:at] + random.choice((nasty(random), *"-/. ±0eE,")) + text[at + random.randint(0, 2) :]
        case _:
            holder[key] = nasty(random)
    return tree


def _holders(tree: Any) -> list[Any]:
    found, pending = [], [tree]
    while pending:
        part = pending.pop()
        if isinstance(part, dict | list):
            found.append(part)
            pending.extend(part.values() if isinstance(part, dict) else part)
    return found


def written(tree: Any, random: Random, oddity: float = 0.0) -> str:
    """The tree as YAML; with `oddity`, some nodes carry anchors, aliases, tags, comments, repeated keys or odd quotes."""
    if isinstance(tree, dict):
        parts = [f"{_scalar(str(key))}: {written(value, random, oddity)}" for key, value in tree.items()]
        if parts and random.random() < oddity:
            parts.append(
                random.choice((parts[0], "<<: *a", "? [1]\n: 2", "'': 1", f"{written(nasty(random), random)}: 1"))
            )
        text = "{" + ", ".join(parts) + "}"
    elif isinstance(tree, list):
        text = "[" + ", ".join(written(item, random, oddity) for item in tree) + "]"
    else:
        text = "" if tree is None else _scalar(str(tree)) if random.random() >= oddity else str(tree)
    if random.random() < oddity / 4:
        text = (
            random.choice(("&a ", "*a ", "!!int ", "!x ", "# c\n", "\t", "---\n", "%YAML 3\n", "|\n  ", ">-\n ", "'"))
            + text
        )
    return text


def _scalar(text: str) -> str:
    return json.dumps(text)


def spoilt_bytes(data: bytes, random: Random) -> bytes:
    """The bytes with a few lost, doubled, moved or changed."""
    for _ in range(random.randint(1, 4)):
        at, size = random.randint(0, len(data)), random.randint(0, 12)
        piece = random.choice(
            (b"", data[at : at + size] * 3, bytes([random.randint(0, 255)]), b"\xff\xfe", b"\n", b": ", b"- ")
        )
        data = data[:at] + piece + data[at + random.choice((0, size)) :]
    return data
