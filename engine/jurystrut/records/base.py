"""What all records share: they are typed, frozen, refuse unknown fields, and know where they stand."""

from __future__ import annotations

from typing import Annotated, Any, TypeGuard

from pydantic import BaseModel, ConfigDict, Field, model_validator
from pydantic.json_schema import SkipJsonSchema

from jurystrut.positions import Spot, Where
from jurystrut.records.fields import Id

__all__ = ["WHERE", "Named", "Record", "is_record"]

WHERE = "@where"
"""The field under which reading hands a record its place; no field read from a file can have this name."""


class Record(BaseModel):
    """One mapping of the build repository, checked; `where` knows the place of every field."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True, defer_build=True)

    where: Annotated[SkipJsonSchema[Where], Field(alias=WHERE, exclude=True, repr=False)] = Where("", 0)

    @model_validator(mode="before")
    @classmethod
    def _take_place(cls, data: Any) -> Any:
        """Carry over the place that reading noted on the mapping."""
        where = getattr(data, "where", None)
        if where is not None and isinstance(data, dict):
            data[WHERE] = where
        return data

    def at(self, field: str = "") -> Spot:
        """The place of a field, or of the record; for the `where` of a finding."""
        return tuple.__new__(Spot, (self.where, field))  # asked for by the million: a third of the time


class Named(Record):
    """A record with an id, once in its section."""

    id: Id

    def __str__(self) -> str:
        return self.id


def is_record(part: Any) -> TypeGuard[type[Record]]:
    """Whether a part of an annotation is a model of records."""
    return isinstance(part, type) and issubclass(part, Record)
