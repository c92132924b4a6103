"""The language server as an editor meets it: pygls's own client starts the command and speaks with it over its streams."""

from __future__ import annotations

import asyncio
import shutil
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from lsprotocol import types
from pygls.exceptions import JsonRpcException
from pygls.lsp.client import LanguageClient

if TYPE_CHECKING:
    from collections.abc import Awaitable, Callable

EXAMPLE = Path(__file__).parents[2] / "project_example"
ENGINE = "electrical/engine.yaml"


def served(
    folder: Path,
    talk: Callable[[LanguageClient, dict[str, Any]], Awaitable[None]],
    file: str = ENGINE,
    encodings: list[types.PositionEncodingKind | str] | None = None,
) -> None:
    """Let a client open a file of records and talk; `told` holds the last diagnostics of every file."""

    async def run() -> None:
        client = LanguageClient("test", "1")
        told: dict[str, Any] = {}

        def take(params: types.PublishDiagnosticsParams) -> None:
            told[params.uri] = params.diagnostics

        client.feature(types.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)(take)
        await client.start_io(sys.executable, "-m", "jurystrut", "serve-editor", str(folder))
        able = types.ClientCapabilities(
            general=types.GeneralClientCapabilities(position_encodings=encodings),
            text_document=types.TextDocumentClientCapabilities(
                rename=types.RenameClientCapabilities(prepare_support=True)
            ),
        )
        begun = await client.initialize_async(types.InitializeParams(capabilities=able, root_uri=folder.as_uri()))
        assert begun.capabilities.position_encoding == (encodings or ["utf-16"])[0]
        client.initialized(types.InitializedParams())
        document = types.TextDocumentItem(uri_of(folder, file), "yaml", 1, (folder / file).read_text("utf-8-sig"))
        client.text_document_did_open(types.DidOpenTextDocumentParams(document))
        try:
            await asyncio.wait_for(talk(client, told), 90)
        finally:
            await client.shutdown_async(None)
            client.exit(None)
            await client.stop()  # type: ignore[no-untyped-call]  # pygls gives it no types

    asyncio.run(run())


def uri_of(folder: Path, file: str = ENGINE) -> str:
    return (folder / file).as_uri()


def copy(tmp_path: Path) -> Path:
    return Path(shutil.copytree(EXAMPLE, tmp_path.resolve() / "a b")).resolve()


def place(folder: Path, piece: str, word: str) -> types.Position:
    lines = (folder / ENGINE).read_text("utf-8").splitlines()
    number, line = next((n, line) for n, line in enumerate(lines) if piece in line)
    return types.Position(number, line.index(word, line.index(piece)) + 1)


def here(folder: Path) -> types.TextDocumentIdentifier:
    return types.TextDocumentIdentifier(uri_of(folder))


async def until(ready: Callable[[], bool]) -> None:
    while not ready():  # noqa: ASYNC110 - what is waited for is a dictionary that the client fills
        await asyncio.sleep(0.05)


def test_findings_come_while_typing_and_a_line_explains_itself(tmp_path: Path) -> None:
    folder = copy(tmp_path)

    async def talk(client: LanguageClient, told: dict[str, Any]) -> None:
        await until(lambda: uri_of(folder) in told)
        codes = {d.code for d in told[uri_of(folder)]}
        assert "electrical/wire-load" not in codes
        lines = (folder / ENGINE).read_text("utf-8").splitlines()
        number = next(n for n, line in enumerate(lines) if "id: W19," in line)
        lines[number] = lines[number].replace("14 AWG", "16 AWG")
        whole = types.TextDocumentContentChangeWholeDocument("\n".join(lines) + "\n")
        version = types.VersionedTextDocumentIdentifier(2, uri_of(folder))
        client.text_document_did_change(types.DidChangeTextDocumentParams(version, [whole]))
        await until(lambda: any(d.code == "electrical/wire-load" for d in told[uri_of(folder)]))
        finding = next(d for d in told[uri_of(folder)] if d.code == "electrical/wire-load")
        assert (finding.range.start.line, finding.severity) == (number, types.DiagnosticSeverity.Error)
        assert "16 AWG" in finding.message
        hover = await client.text_document_hover_async(types.HoverParams(here(folder), types.Position(number, 12)))
        assert hover is not None
        said = str(hover.contents)
        assert "electrical/wire-load" in said
        assert "1. " in said
        assert "figure 11-4a" in said

    served(folder, talk)
    assert "16 AWG" not in next(x for x in (folder / ENGINE).read_text("utf-8").splitlines() if "id: W19," in x)


def test_the_way_from_a_wires_end_to_its_device_and_a_new_id_everywhere(tmp_path: Path) -> None:
    folder = copy(tmp_path)

    async def talk(client: LanguageClient, told: dict[str, Any]) -> None:
        wire = next(x for x in (folder / ENGINE).read_text("utf-8").splitlines() if "id: W19," in x)
        end = wire.partition("from: ")[2].partition(",")[0].partition(".")[0]
        at = place(folder, "id: W19,", end)
        found = await client.text_document_definition_async(types.DefinitionParams(here(folder), at))
        assert isinstance(found, list)
        assert found
        where = found[0]
        assert isinstance(where, types.Location)
        text = next(p for p in folder.rglob("*.yaml") if p.as_uri() == where.uri).read_text("utf-8")
        line = text.splitlines()[where.range.start.line]
        assert f"id: {end}" in line
        edit = await client.text_document_rename_async(types.RenameParams(here(folder), at, "BRAND-NEW"))
        assert edit is not None
        assert edit.changes
        apply(folder, dict(edit.changes))

    served(folder, talk)
    from jurystrut.reading import read

    assert [str(problem) for problem in read(folder).problems] == []
    assert "BRAND-NEW" in (folder / ENGINE).read_text("utf-8")


def apply(folder: Path, changes: dict[str, Any]) -> None:
    for path in folder.rglob("*.yaml"):
        lines = path.read_text("utf-8").splitlines()
        edits = changes.get(path.as_uri(), [])
        for edit in sorted(edits, key=lambda e: (e.range.start.line, e.range.start.character), reverse=True):
            line = lines[edit.range.start.line]
            lines[edit.range.start.line] = (
                line[: edit.range.start.character] + edit.new_text + line[edit.range.end.character :]
            )
        path.write_text("\n".join(lines) + "\n", encoding="utf-8")


MARKED = (
    "aircraft: {name: T, authority: US, stage: design}\n# \U0001f6e9 \u00e9\u2028electrical:\n"
    '  buses: [{what: "\U0001f6e9\u00e9", id: MAIN}, {what: "\U0001f6e9", id: ENG}]\n'
    '  wires: [{marking: "\U0001f6e9\u00e9\u0301", id: W1, from: MAIN, to: ENG, sise: 18 AWG}]\n'
)
UNITS = {"utf-8": ("utf-8", 1), "utf-16": ("utf-16-le", 2), "utf-32": ("utf-32-le", 4)}


def units(text: str, encoding: str) -> int:
    codec, width = UNITS[encoding]
    return len(text.encode(codec)) // width


@pytest.mark.parametrize("mark", ["", "\ufeff"])
@pytest.mark.parametrize("encoding", [None, *UNITS])
def test_places_are_right_in_every_encoding_and_behind_rare_letters(
    tmp_path: Path, encoding: str | None, mark: str
) -> None:
    """U+2028 breaks a line for YAML and none for the protocol; an editor shows no byte order mark."""
    folder = tmp_path.resolve()
    (folder / "a.yaml").write_text(mark + MARKED, encoding="utf-8", newline="\n")
    counted = encoding or "utf-16"
    lines = MARKED.split("\n")

    def spot(number: int, word: str) -> types.Position:
        return types.Position(number, units(lines[number].partition(word)[0], counted))

    def cut(place: types.Range) -> str:
        line = lines[place.start.line].encode(UNITS[counted][0])
        width = UNITS[counted][1]
        return line[place.start.character * width : place.end.character * width].decode(UNITS[counted][0])

    async def talk(client: LanguageClient, told: dict[str, Any]) -> None:
        await until(lambda: uri_of(folder, "a.yaml") in told)
        shown = {cut(d.range) for d in told[uri_of(folder, "a.yaml")] if "unknown field" in d.message}
        assert shown == {"sise"}
        lines[3] = lines[3].replace("sise", "size")
        whole = types.TextDocumentContentChangeWholeDocument("\n".join(lines))
        version = types.VersionedTextDocumentIdentifier(2, uri_of(folder, "a.yaml"))
        client.text_document_did_change(types.DidChangeTextDocumentParams(version, [whole]))
        here = types.TextDocumentIdentifier(uri_of(folder, "a.yaml"))
        where = await client.text_document_definition_async(types.DefinitionParams(here, spot(3, "MAIN")))
        assert isinstance(where, list)
        assert [(place.range.start, cut(place.range)) for place in where] == [(spot(2, "MAIN"), "MAIN")]
        asked = types.PrepareRenameParams(here, spot(3, "ENG"))
        assert await client.text_document_prepare_rename_async(asked) == types.Range(
            spot(3, "ENG"), types.Position(3, spot(3, "ENG").character + 3)
        )
        edit = await client.text_document_rename_async(types.RenameParams(here, spot(3, "ENG"), "ENGINE"))
        assert edit is not None
        assert edit.changes
        assert [(e.range.start, cut(e.range)) for e in edit.changes[here.uri]] == [
            (spot(2, "ENG"), "ENG"),
            (spot(3, "ENG"), "ENG"),
        ]

    served(folder, talk, "a.yaml", [encoding] if encoding else None)


def test_a_bad_or_taken_id_is_refused_in_words(tmp_path: Path) -> None:
    folder = tmp_path.resolve()
    (folder / "a.yaml").write_text(
        "aircraft: {name: T, authority: US, stage: design}\nelectrical:\n"
        "  buses: [{id: MAIN}, {id: ENG}]\n  wires: [{id: W1, from: MAIN, to: ENG}]\n",
        encoding="utf-8",
    )
    (folder / "p.yaml").write_text("panel:\n  items: [{id: ASI, kind: instrument}]\n", encoding="utf-8")

    async def talk(client: LanguageClient, told: dict[str, Any]) -> None:
        here = types.TextDocumentIdentifier(uri_of(folder, "a.yaml"))

        async def refused(line: int, character: int, new: str) -> str:
            with pytest.raises(JsonRpcException) as error:
                await client.text_document_rename_async(types.RenameParams(here, types.Position(line, character), new))
            assert error.value.code == types.LSPErrorCodes.RequestFailed
            return error.value.message

        bad = "is no id; write plain letters, digits, - and _, a letter or digit first, at most 64 of them, for example W12"
        for new in ("MAIN BUS", "MAIN.1", "", "-A", "\u00e9", "A" * 65):
            assert await refused(2, 15, new) == f"'{new[:64]}' {bad}"
        taken = "is taken, by the record at {}; one thing has one id, give another"
        assert await refused(2, 15, "ENG") == f"'ENG' {taken.format('a.yaml:3:28')}"
        assert await refused(3, 26, "ASI") == f"'ASI' {taken.format('p.yaml:2:16')}"
        assert await refused(2, 4, "NEW") == "'buses' is no record's id; put the cursor on the id that is to be changed"
        assert await refused(99, 0, "NEW") == "there is no id here; put the cursor on the id that is to be changed"
        nothing = types.PrepareRenameParams(here, types.Position(2, 4))
        assert await client.text_document_prepare_rename_async(nothing) is None
        same = await client.text_document_rename_async(types.RenameParams(here, types.Position(2, 15), "MAIN"))
        assert same is not None

    served(folder, talk, "a.yaml")
