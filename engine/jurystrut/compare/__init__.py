"""Two judgements, or many along the commits, and what changed from one to the next."""

from __future__ import annotations

from jurystrut.compare.causes import Causes
from jurystrut.compare.changes import WORSE, Change
from jurystrut.compare.history import Break, History, Series, history
from jurystrut.compare.hunks import Hunk
from jurystrut.compare.objects import Commit, Repository
from jurystrut.compare.sides import Comparison, Explained, Side, compare, side_of

__all__ = [
    "WORSE",
    "Break",
    "Causes",
    "Change",
    "Commit",
    "Comparison",
    "Explained",
    "History",
    "Hunk",
    "Repository",
    "Series",
    "Side",
    "compare",
    "history",
    "side_of",
]
