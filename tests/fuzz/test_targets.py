"""Every target on its corpus, as it stands and with bytes changed by chance; the long runs are guided by coverage."""

from __future__ import annotations

import time
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.fuzz.making import spoilt_bytes
from tests.fuzz.targets import CORPUS, TARGETS, corpus_of, folder_of

SLOW = {"records": 10, "judged": 4, "write page": 4, "write dxf": 10}  # examples; all others take a millisecond


@pytest.mark.parametrize("name", TARGETS)
def test_what_was_found_once_stays_mended(name: str) -> None:
    for data in corpus_of(name):
        begun = time.process_time()
        TARGETS[name](data)
        assert (
            time.process_time() - begun < 5
        )  # a second when nothing must be loaded first; the long runs hold it to that


@pytest.mark.parametrize("name", TARGETS)
def test_the_corpus_with_bytes_changed(name: str) -> None:
    seeds = corpus_of(name)

    @given(st.integers(0, 2**64).map(Random), st.integers(1, 4))
    @settings(max_examples=SLOW.get(name, 60), deadline=None, suppress_health_check=list(HealthCheck), database=None)
    def spoil(random: Random, times: int) -> None:
        data = random.choice(seeds)
        for _ in range(times):
            data = spoilt_bytes(data, random)
        TARGETS[name](data)

    spoil()


def test_the_corpus_is_small_and_used() -> None:
    assert {path.name for path in CORPUS.iterdir()} == {folder_of(name) for name in TARGETS}
    sizes = [path.stat().st_size for path in CORPUS.rglob("*") if path.is_file()]
    assert len(sizes) < 500
    assert sum(sizes) < 500_000


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("write markdown", b"<b>"),
        ("write junit", b"\x1b"),
        ("write text", b"::error::x"),
        ("write gate baseline", b"\xff"),
    ],
)
def test_a_writer_that_lets_everything_through_is_caught(
    name: str, data: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The checks of the targets are no mere show."""
    import jurystrut.reports.gate
    import jurystrut.reports.junit
    import jurystrut.reports.markdown
    import jurystrut.reports.plain
    import jurystrut.reports.text

    for module, function in (
        (jurystrut.reports.markdown, "escaped"),
        (jurystrut.reports.junit, "_clean"),
        (jurystrut.reports.plain, "safe"),
        (jurystrut.reports.text, "safe"),
        (jurystrut.reports.gate, "safe"),
        (jurystrut.reports.gate, "one_line"),
    ):
        monkeypatch.setattr(module, function, lambda text: text, raising=False)
    with pytest.raises(Exception, match=r".*"):
        TARGETS[name](data)
