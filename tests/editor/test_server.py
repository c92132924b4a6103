"""The language server as an editor meets it: pygls's own client starts the command and speaks with it over its streams."""

from __future__ import annotations

import asyncio
import shutil
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Any

from lsprotocol import types
from pygls.lsp.client import LanguageClient

if TYPE_CHECKING:
    from collections.abc import Awaitable, Callable

EXAMPLE = Path(__file__).parents[2] / "project_example"
ENGINE = "electrical/engine.yaml"


def served(folder: Path, talk: Callable[[LanguageClient, dict[str, Any]], Awaitable[None]]) -> None:
    """Let a client open the engine's records and talk; `told` holds the last diagnostics of every file."""

    async def run() -> None:
        client = LanguageClient("test", "1")
        told: dict[str, Any] = {}

        def take(params: types.PublishDiagnosticsParams) -> None:
            told[params.uri] = params.diagnostics

        client.feature(types.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS)(take)
        await client.start_io(sys.executable, "-m", "jurystrut", "serve-editor", str(folder))
        await client.initialize_async(
            types.InitializeParams(capabilities=types.ClientCapabilities(), root_uri=folder.as_uri())
        )
        client.initialized(types.InitializedParams())
        document = types.TextDocumentItem(uri_of(folder), "yaml", 1, (folder / ENGINE).read_text("utf-8"))
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
