"""The kinds of field that records are made of, beside quantities: ids, names of other records, dates, numbers, words.

Everything arrives as text, and only the field says what it means: no value changes its type by the way it looks.
"""

from __future__ import annotations

import datetime
import re
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Annotated, Any, Literal, get_args, get_origin

if TYPE_CHECKING:
    from collections.abc import Callable, Hashable

    from pydantic import BaseModel, GetCoreSchemaHandler, GetJsonSchemaHandler
    from pydantic_core import CoreSchema

__all__ = [
    "ID_PATTERN",
    "AnyRecord",
    "Count",
    "Country",
    "Day",
    "Digest",
    "FilePath",
    "Flag",
    "Id",
    "InRepository",
    "Instant",
    "Names",
    "Number",
    "Terminal",
    "Text",
    "parts_by_field",
    "parts_of",
]

ID_PATTERN = "[A-Za-z0-9][A-Za-z0-9_-]{0,63}"
_ID = re.compile(ID_PATTERN)
_TERMINAL = re.compile(rf"{ID_PATTERN}(\.{ID_PATTERN})?")
_DAY = re.compile("[0-9]{4}-[0-9]{2}-[0-9]{2}")
_INSTANT = re.compile("[0-9]{4}-[0-9]{2}-[0-9]{2}[ T][0-9]{2}:[0-9]{2}")
_DIGEST = re.compile("[0-9a-f]{64}")
_COUNTRY = re.compile("[A-Z]{2}")
_COUNT = re.compile("[0-9]{1,9}")
_NUMBER = re.compile(r"-?[0-9]{1,12}(\.[0-9]{1,12})?")
_FLAG_PATTERN = "^([Tt][Rr][Uu][Ee]|[Ff][Aa][Ll][Ss][Ee]|[Yy][Ee][Ss]|[Nn][Oo])$"
_FLAGS = {"true": True, "yes": True, "false": False, "no": False}


def _shown(value: object) -> str:
    """A value as a message shows it: short, quoted, and named where it is not text at all."""
    if value is None:
        return "no value"
    if isinstance(value, str):
        return repr(value if len(value) <= 60 else value[:57] + "...")
    return "a mapping" if isinstance(value, dict) else "a list" if isinstance(value, (list, tuple)) else repr(value)


def _matched(value: object, pattern: re.Pattern[str], wanted: str) -> str:
    if isinstance(value, str) and pattern.fullmatch(value):
        return value
    raise ValueError(f"found {_shown(value)}; wanted {wanted}")


def _id(value: object) -> str:
    return _matched(value, _ID, "an id of plain letters, digits, - and _, a letter or digit first, as W12")


def _terminal(value: object) -> str:
    return _matched(value, _TERMINAL, "a device or one of its terminals, for example F3 or SW-LAND.in")


def _text(value: object) -> str:
    if isinstance(value, str) and value.strip():
        return value
    raise ValueError(f"found {_shown(value)}; wanted words")


def _country(value: object) -> str:
    """A slip here would turn every law of the aircraft's own authority into that of another, which only warns."""
    if value == "UK":
        raise ValueError("found 'UK'; wanted GB, the code of that country")
    return _matched(value, _COUNTRY, "a country's code of two capitals, or EU, for example US")


def _count(value: object) -> int:
    return value if type(value) is int else int(_matched(value, _COUNT, "a whole number, for example 2"))


def _number(value: object) -> float:
    return (
        value if type(value) is float else float(_matched(value, _NUMBER, "a number without a unit, for example 1.2"))
    )


def _flag(value: object) -> bool:
    if isinstance(value, bool):
        return value
    if isinstance(value, str) and value.lower() in _FLAGS:
        return _FLAGS[value.lower()]
    raise ValueError(f"found {_shown(value)}; wanted true or false")


def _day(value: object) -> datetime.date:
    if type(value) is datetime.date:
        return value
    text = _matched(value, _DAY, "a day, for example 2026-05-03")
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        raise ValueError(f"{text} is no day of the calendar") from None


def _instant(value: object) -> datetime.datetime:
    if type(value) is datetime.datetime:
        return value
    text = _matched(value, _INSTANT, "a day and local time, for example 2026-05-03 09:30")
    try:
        return datetime.datetime.fromisoformat(text)
    except ValueError:
        raise ValueError(f"{text} is no time of the calendar") from None


def _file_path(value: object) -> str:
    """A path inside the build repository, with / between its parts; nothing that could lead out of it."""
    text = _text(value)
    parts = text.split("/")
    if "\\" in text or ":" in text or text.startswith(("/", "~")) or ".." in parts or "" in parts:
        raise ValueError(f"found {_shown(text)}; wanted a path inside this repository, for example evidence/w12.jpg")
    return text


def _digest(value: object) -> str:
    return _matched(value, _DIGEST, "a SHA-256 digest of 64 digits and small letters a to f")


@dataclass(frozen=True, slots=True)
class InRepository:
    """Marks a field that names a file of the build repository."""


@dataclass(frozen=True, slots=True)
class Names:
    """Marks a field that holds the id of another record, in one of these sections or lists.

    A target is a section, `electrical`, or one list in it, `weights.stations`. With `terminal`, a dot and the name of a
    terminal may follow the id. Without a target it may be a record of any section, and a rule minds whether it is there.
    """

    targets: tuple[str, ...]
    terminal: bool = False

    def __init__(self, *targets: str, terminal: bool = False) -> None:
        object.__setattr__(self, "targets", targets)
        object.__setattr__(self, "terminal", terminal)


class _Read:
    """Says how a field is read and what a JSON Schema says of it; pydantic's own two markers take five times as long to build."""

    __slots__ = ("read", "schema")

    def __init__(self, read: Callable[[object], Any], description: str, **schema: Any) -> None:
        self.read = read
        # An editor takes `id: 12` for a number, and `what: true` for a truth; here both are text.
        self.schema = {"type": ["string", "number", "boolean"], "description": description, **schema}

    def __get_pydantic_core_schema__(self, source: object, handler: GetCoreSchemaHandler) -> CoreSchema:
        return {"type": "function-plain", "function": {"type": "no-info", "function": self.read}}

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return dict(self.schema)


Id = Annotated[str, _Read(_id, "letters, digits, - and _", pattern=f"^{ID_PATTERN}$")]
"""The name of a record, once in its section."""

AnyRecord = Annotated[Id, Names()]
"""The id of a record of any section, which may have gone."""

Terminal = Annotated[str, _Read(_terminal, "DEVICE or DEVICE.terminal"), Names("electrical", terminal=True)]
"""A device of the electrical section, or one of its terminals."""

Text = Annotated[str, _Read(_text, "words")]
"""Words, at least one."""

Country = Annotated[str, _Read(_country, "a country's code of two capitals", pattern="^[A-Z]{2}$", type="string")]
"""A country by its two-letter code (ISO 3166-1), or EU."""

Count = Annotated[int, _Read(_count, "a whole number", type=["integer", "string"], pattern="^[0-9]{1,9}$")]
"""A whole number, zero or more."""

Number = Annotated[float, _Read(_number, "a number without a unit", type=["number", "string"])]
"""A plain number without a unit."""

Flag = Annotated[bool, _Read(_flag, "true or false", type=["boolean", "string"], pattern=_FLAG_PATTERN)]
"""true or false, yes or no."""

Day = Annotated[datetime.date, _Read(_day, "a day", pattern="^[0-9]{4}-[0-9]{2}-[0-9]{2}$")]
"""A day, YYYY-MM-DD."""

Instant = Annotated[datetime.datetime, _Read(_instant, "day and local time, YYYY-MM-DD HH:MM")]
"""A day and the local time, YYYY-MM-DD HH:MM."""

FilePath = Annotated[str, _Read(_file_path, "a path inside the build repository"), InRepository()]
"""A file of the build repository, by its path from the root."""

Digest = Annotated[str, _Read(_digest, "a SHA-256 digest", pattern="^[0-9a-f]{64}$")]
"""The SHA-256 of a file, as `sha256sum` prints it."""


def parts_of(annotation: Any) -> tuple[Any, ...]:
    """An annotation and all that it is made of, from the outside in: types, and what they are annotated with.

    The words of a `Literal` are left out. Many fields share an annotation, so each is looked at once.
    """
    return _parts_of(annotation)


@cache
def parts_by_field(model: type[BaseModel]) -> dict[str, tuple[Any, ...]]:
    """Of every field of a model, all that its annotation is made of."""
    return {name: (*info.metadata, *parts_of(info.annotation)) for name, info in model.model_fields.items()}


@cache
def _parts_of(annotation: Hashable) -> tuple[Any, ...]:
    inner = () if get_origin(annotation) is Literal else get_args(annotation)
    return (annotation, *(part for each in inner for part in _parts_of(each)))
