"""The command about what the rules rest on: `sources`."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import argparse

__all__ = ["add_source_command"]


def add_source_command(commands: Any, status: str) -> None:
    """Declare the command to the parser of the whole."""
    sources = commands.add_parser(
        "sources",
        help="how what the rules rest on is known: read, at second hand, from memory",
        description="Count, for each domain, how the sources of the installed rules and of their figures are known.",
        epilog=status,
    )
    known = ("read", "second-hand", "memory", "common-practice", "as-recorded")
    sources.add_argument("--status", choices=known, help="list the rules and figures that are known so")
    sources.add_argument(
        "--format", choices=("text", "json"), default="text", help="text for people, json for machines"
    )
    sources.set_defaults(run=_sources)


def _sources(options: argparse.Namespace) -> int:
    from jurystrut.delivery import deliver
    from jurystrut.judge import installed_packs, load
    from jurystrut.reports.sources import write, write_json

    text = (write_json if options.format == "json" else write)(load(installed_packs()), options.status)
    deliver(text)
    return 0
