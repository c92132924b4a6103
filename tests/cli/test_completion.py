"""Completion: bash itself is asked what it would offer; zsh and fish read their scripts in `.ci/editors`."""

from __future__ import annotations

import subprocess

import pytest

from jurystrut.cli import _parser, main
from jurystrut.completion import described


def script(capsysbinary: pytest.CaptureFixture[bytes], shell: str) -> str:
    assert main(["completion", shell]) == 0
    return capsysbinary.readouterr().out.decode()


def offered(lines: str, *words: str) -> list[str]:
    """What bash offers for the last of the words."""
    typed = " ".join(f"'{word}'" for word in words)
    ask = f'COMP_WORDS=({typed}); COMP_CWORD={len(words) - 1}; _jurystrut; printf "%s\\n" "${{COMPREPLY[@]}}"'
    done = subprocess.run(["bash", "-c", f"{lines}\n{ask}"], capture_output=True, text=True, check=True)
    assert not done.stderr
    return done.stdout.split()


@pytest.mark.parametrize(
    ("words", "found"),
    [
        (("jurystrut", "che"), ["check"]),
        (("jurystrut", "comp"), ["completion", "compare-drawing", "compare"]),
        (("jurystrut", "check", "--format", "sar"), ["sarif"]),
        (("jurystrut", "check", ".", "--at", "in"), ["inspection"]),
        (("jurystrut", "report", "--wat"), ["--watch"]),
        (("jurystrut", "completion", ""), ["bash", "zsh", "fish"]),
        (("jurystrut", "check", "--output", ""), []),  # bash itself offers files
    ],
)
def test_bash_offers(capsysbinary: pytest.CaptureFixture[bytes], words: tuple[str, ...], found: list[str]) -> None:
    assert set(offered(script(capsysbinary, "bash"), *words)) == set(found)


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_every_command_and_long_option_is_in_every_script(
    capsysbinary: pytest.CaptureFixture[bytes], shell: str
) -> None:
    text = script(capsysbinary, shell)
    commands = described(_parser())
    assert len(commands) > 10
    for command in commands:
        assert command.name in text
        assert command.help, command.name
        for option in command.options:
            for name in option.names:
                in_fish = f"-l {name[2:]} " if name.startswith("--") else f"-s {name[1:]} "
                assert (in_fish if shell == "fish" else name) in text
