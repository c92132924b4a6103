"""The parser of the commands -> what a shell needs to complete them; one table for all three shells."""

from __future__ import annotations

import argparse
import shlex
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

__all__ = ["SHELLS", "Command", "Option", "described"]


class Option(NamedTuple):
    """One option: its spellings, what it is for, whether a value follows, and the values where they are a closed list."""

    names: tuple[str, ...]
    help: str
    takes_value: bool
    values: tuple[str, ...]


class Command(NamedTuple):
    """One command: its name, what it is for, its options, and the words of its first argument where they are a closed list."""

    name: str
    help: str
    options: tuple[Option, ...]
    words: tuple[str, ...]


def described(parser: argparse.ArgumentParser) -> list[Command]:
    """All commands of a parser with what they take."""
    # argparse offers no public way to look at what was declared; the two names have stood since Python 2.7.
    tables = [action for action in parser._actions if isinstance(action, argparse._SubParsersAction)]  # noqa: SLF001
    helps = {choice.dest: choice.help or "" for table in tables for choice in table._choices_actions}  # noqa: SLF001
    return [
        _command(name, helps.get(name, ""), _actions_of(inner))
        for table in tables
        for name, inner in table.choices.items()
    ]


def _actions_of(command: Any) -> Sequence[argparse.Action]:
    learn = getattr(command, "declared", None)  # a parser of ours learns its arguments when it is asked for
    actions: Sequence[argparse.Action] = (learn() if learn else command)._actions  # noqa: SLF001 - as above
    return actions


def _command(name: str, text: str, actions: Sequence[argparse.Action]) -> Command:
    options = tuple(
        Option(tuple(action.option_strings), _one_line(action), action.nargs != 0, _values(action))
        for action in actions
        if action.option_strings
    )
    words = next((_values(action) for action in actions if not action.option_strings and action.choices), ())
    return Command(name, text, options, words)


def _values(action: argparse.Action) -> tuple[str, ...]:
    return tuple(str(value) for value in action.choices or ())


def _one_line(action: argparse.Action) -> str:
    return " ".join((action.help or "").replace("%(choices)s", ", ".join(_values(action))).split())


def _choices_after(commands: Sequence[Command]) -> Iterator[tuple[str, str]]:
    """`command --option` and the words that may follow it; none where the shell should offer files."""
    for command in commands:
        for option in command.options:
            if option.takes_value:
                yield from ((f"{command.name} {name}", " ".join(option.values)) for name in option.names)


def _flags(command: Command) -> str:
    return " ".join(name for option in command.options for name in option.names)


def _bash(commands: Sequence[Command]) -> str:
    after = "\n".join(
        f"        {shlex.quote(key)}) words={shlex.quote(words)} ;;" for key, words in _choices_after(commands)
    )
    rest = "\n".join(
        f"        {c.name}) flags={shlex.quote(_flags(c))} words={shlex.quote(' '.join(c.words))} ;;" for c in commands
    )
    names = " ".join(command.name for command in commands)
    return f"""\
# Completion of jurystrut for bash.
_jurystrut() {{
    local here=${{COMP_WORDS[COMP_CWORD]}} before=${{COMP_WORDS[COMP_CWORD - 1]}} command=${{COMP_WORDS[1]}} words="" flags=""
    COMPREPLY=()
    if [ "$COMP_CWORD" -eq 1 ]; then
        COMPREPLY=($(compgen -W "{names} --help --version" -- "$here"))
        return
    fi
    case "$command $before" in
{after}
        *)
            case "$command" in
{rest}
            esac
            if [[ $here == -* ]]; then words=$flags; fi
            ;;
    esac
    if [ -n "$words" ]; then COMPREPLY=($(compgen -W "$words" -- "$here")); fi
}}
complete -o default -F _jurystrut jurystrut
"""


def _zsh(commands: Sequence[Command]) -> str:
    names = "\n".join(f"        {shlex.quote(f'{c.name}:{c.help}')}" for c in commands)
    after = "\n".join(
        f"        {shlex.quote(key)}) {f'compadd -- {words}' if words else '_files'}; return ;;"
        for key, words in _choices_after(commands)
    )
    rest = "\n".join(
        f"        {c.name}) if [[ $PREFIX == -* ]]; then compadd -- {_flags(c)}; return; fi"
        + (f"; compadd -- {' '.join(c.words)}" if c.words else "")
        + " ;;"
        for c in commands
    )
    return f"""\
#compdef jurystrut
# Completion of jurystrut for zsh.
_jurystrut() {{
    local -a commands=(
{names}
    )
    if (( CURRENT == 2 )); then _describe command commands; return; fi
    case "${{words[2]}} ${{words[CURRENT-1]}}" in
{after}
    esac
    case "${{words[2]}}" in
{rest}
    esac
    _files
}}
compdef _jurystrut jurystrut
"""


def _fish(commands: Sequence[Command]) -> str:
    lines = ["# Completion of jurystrut for fish."]
    for command in commands:
        lines.append(
            f"complete -c jurystrut -n __fish_use_subcommand -f -a {command.name} -d {_quoted_for_fish(command.help)}"
        )
        within = f"complete -c jurystrut -n '__fish_seen_subcommand_from {command.name}'"
        lines += [f"{within} {_fish_option(option)}" for option in command.options]
        if command.words:
            lines.append(f"{within} -a '{' '.join(command.words)}'")
    return "\n".join(lines) + "\n"


def _fish_option(option: Option) -> str:
    names = " ".join(
        f"-l {n[2:]}" if n.startswith("--") else f"-s {n[1:]}" if len(n) == 2 else f"-o {n[1:]}" for n in option.names
    )
    value = f" -x -a '{' '.join(option.values)}'" if option.values else " -r" if option.takes_value else ""
    return f"{names}{value} -d {_quoted_for_fish(option.help)}"


def _quoted_for_fish(text: str) -> str:
    return "'" + text.replace("\\", "\\\\").replace("'", "\\'") + "'"


SHELLS: dict[str, Callable[[Sequence[Command]], str]] = {"bash": _bash, "zsh": _zsh, "fish": _fish}
"""The writer for each shell."""
