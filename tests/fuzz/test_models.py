"""Every record model by itself: what is made as it wants it is taken, what is changed is taken or refused in words."""

from __future__ import annotations

from random import Random
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pydantic import ValidationError
from tests.fuzz.making import mutated, one_record, written

from jurystrut.reading.messages import field_names, message_of
from jurystrut.reading.sections import record_in
from jurystrut.records import SECTIONS, section_model
from jurystrut.records.gates import Gates
from jurystrut.tree import parse

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.base import Record

chance = st.integers(0, 2**64).map(Random)


def models() -> list[type[Record]]:
    """The models of all sections and of the gates, and every model within them."""
    found: dict[str, type[Record]] = {}
    pending: list[type[Record]] = [*map(section_model, SECTIONS), Gates]
    while pending:
        model = pending.pop()
        if model.__qualname__ not in found:
            found[model.__qualname__] = model
            pending.extend(_inside(model))
    return [found[name] for name in sorted(found)]


def _inside(model: type[Record]) -> Iterator[type[Record]]:
    for info in model.model_fields.values():
        inner = record_in(info.annotation)
        if inner is not None:
            yield inner


MODELS = models()


def taken(model: type[Record], made: Any, random: Random) -> bool:
    """Whether the model takes it; refused in words of a sensible length where not."""
    tree, _ = parse(written(made, random), "x.yaml")
    try:
        model.model_validate(tree, context={"gallon": "US"})
    except ValidationError as error:
        fields = field_names(model)
        for detail in error.errors(include_url=False):
            assert 0 < len(message_of(detail, fields)) < 1000
        return False
    return True


def test_there_are_as_many_models_as_one_would_think() -> None:
    assert len(MODELS) > 80


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__qualname__)
def test_a_sound_record_is_taken(model: type[Record]) -> None:
    assert any(taken(model, one_record(model, Random(seed)), Random(seed)) for seed in range(200))


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__qualname__)
@given(random=chance, changes=st.integers(0, 4))
@settings(max_examples=30, deadline=None, suppress_health_check=list(HealthCheck))
def test_any_record_is_taken_or_refused_in_words(model: type[Record], random: Random, changes: int) -> None:
    made: Any = one_record(model, random)
    for _ in range(changes):
        made = mutated(made, random)
    taken(model, made, random)
