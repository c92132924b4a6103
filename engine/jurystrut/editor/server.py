"""The language server: an editor's requests over standard streams, answered from the desk. Needs the extra `editor`."""

from __future__ import annotations

import asyncio
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jurystrut.editor.desk import Desk
from jurystrut.editor.mentions import id_at, mentions_of, why_not
from jurystrut.editor.places import Point, place_of, point_of
from jurystrut.errors import UsageError
from jurystrut.rulebook import Verdict

if TYPE_CHECKING:
    from jurystrut.editor.mentions import Mention
    from jurystrut.positions import Position

__all__ = ["serve"]

_PAUSE = 0.2  # seconds without a key before the records are judged again


def serve(root: Path) -> None:
    """Serve one editor until it says goodbye; raises UsageError where pygls is not installed."""
    try:
        from lsprotocol import types
        from pygls.lsp.server import LanguageServer
    except ImportError:
        raise UsageError('the editor\'s server needs pygls; install it with pip install "jurystrut[editor]"') from None
    from jurystrut import __version__

    # Whole texts: pygls would put pieces in by lines that it breaks elsewhere than the protocol does.
    server = LanguageServer("jurystrut", __version__, text_document_sync_kind=types.TextDocumentSyncKind.Full)
    answers = _Answers(server, types, Desk(root.resolve()))
    for name, answer in (
        (types.TEXT_DOCUMENT_DID_OPEN, answers.changed),
        (types.TEXT_DOCUMENT_DID_CHANGE, answers.changed),
        (types.TEXT_DOCUMENT_DID_CLOSE, answers.closed),
        (types.TEXT_DOCUMENT_HOVER, answers.hover),
        (types.TEXT_DOCUMENT_DEFINITION, answers.definition),
        (types.TEXT_DOCUMENT_PREPARE_RENAME, answers.prepare_rename),
        (types.TEXT_DOCUMENT_RENAME, answers.rename),
    ):
        server.feature(name)(partial(answer))  # pygls writes on what it is given, and a method takes no writing
    server.start_io()


class _Answers:
    """One method a request; `types` are the protocol's, imported with the server alone."""

    def __init__(self, server: Any, types: Any, desk: Desk) -> None:
        self.server, self.types, self.desk = server, types, desk
        self.changes = 0
        self.told: set[str] = set()

    async def changed(self, params: Any) -> None:
        """A file was opened or typed in: after a pause, all findings are told anew."""
        document = self.server.workspace.get_text_document(params.text_document.uri)
        self.desk.typed[self._path(params.text_document.uri)] = document.source
        await self._look_soon()

    async def closed(self, params: Any) -> None:
        """What was not saved is gone."""
        self.desk.typed.pop(self._path(params.text_document.uri), None)
        await self._look_soon()

    async def _look_soon(self) -> None:
        self.changes += 1
        mine = self.changes
        await asyncio.sleep(_PAUSE)
        if mine == self.changes:
            self._tell()

    def _tell(self) -> None:
        found: dict[str, list[Any]] = {file: [] for file in self.told | self.desk.typed.keys()}
        for remark in self.desk.look():
            found.setdefault(remark.position.file, []).append(self._diagnostic(remark))
        self.told = {file for file, remarks in found.items() if remarks}
        for file, diagnostics in found.items():
            params = self.types.PublishDiagnosticsParams(uri=self._uri(file), diagnostics=diagnostics)
            self.server.text_document_publish_diagnostics(params)

    def _diagnostic(self, remark: Any) -> Any:
        severities = self.types.DiagnosticSeverity
        severity = severities.Error if remark.verdict is Verdict.FAIL else severities.Warning
        word = id_at(self.desk.texts.get(remark.position.file, ""), remark.position)
        length = len(word[0]) if word and word[1] == remark.position else 1
        return self.types.Diagnostic(
            range=self._range(remark.position, length),
            message=remark.message,
            severity=severity,
            code=remark.rule or None,
            source="jurystrut",
        )

    def hover(self, params: Any) -> Any:
        """The rules that speak of this line, and their arithmetic."""
        place = self._place(params)
        text = self.desk.explained(place.file, place.line)
        fenced = "```text\n" + text.replace("```", "'''") + "```"
        markdown = self.types.MarkupContent(kind=self.types.MarkupKind.Markdown, value=fenced)
        return self.types.Hover(contents=markdown) if text else None

    def definition(self, params: Any) -> Any:
        """From a name to the record that bears it."""
        name, _, mentions = self._named(params)
        return [
            self.types.Location(uri=self._uri(m.position.file), range=self._range(m.position, len(name)))
            for m in mentions
            if m.defines
        ]

    def prepare_rename(self, params: Any) -> Any:
        """The id that would be changed; nothing where there is none."""
        name, place, mentions = self._named(params)
        return self._range(place, len(name)) if mentions else None

    def rename(self, params: Any) -> Any:
        """One thing has one id: it is changed where it is given and everywhere it is named."""
        name, _, mentions = self._named(params)
        judgement = self.desk.judgement
        if not (mentions and judgement):
            found = f"'{name}' is no record's id" if name else "there is no id here"
            raise self._refused(f"{found}; put the cursor on the id that is to be changed")
        if refused := why_not(judgement.project, name, params.new_name):
            raise self._refused(refused)
        changes: dict[str, list[Any]] = {}
        for mention in mentions:
            edit = self.types.TextEdit(range=self._range(mention.position, len(name)), new_text=params.new_name)
            changes.setdefault(self._uri(mention.position.file), []).append(edit)
        return self.types.WorkspaceEdit(changes=changes)

    def _refused(self, message: str) -> Exception:
        """What an editor shows to whoever asked."""
        from pygls.exceptions import JsonRpcException

        return JsonRpcException(message, code=self.types.LSPErrorCodes.RequestFailed.value)

    def _named(self, params: Any) -> tuple[str, Position, list[Mention]]:
        """The word where the editor stands, its beginning, and all the places where it is a record's id."""
        place = self._place(params)
        word = id_at(self._text(params), place)
        self.desk.look()  # what was typed a moment ago counts
        judgement = self.desk.judgement
        if not (word and judgement):
            return "", place, []
        return *word, mentions_of(judgement.project, word[0], self.desk.texts)

    def _text(self, params: Any) -> str:
        text: str = self.server.workspace.get_text_document(params.text_document.uri).source
        return text

    def _place(self, params: Any) -> Position:
        point = Point(params.position.line, params.position.character)
        return place_of(self._text(params), self._path(params.text_document.uri), point, self._units)

    def _range(self, position: Position, length: int) -> Any:
        text = self.desk.texts.get(position.file, "")
        ends = (position, position._replace(column=position.column + length))
        start, end = (self.types.Position(*point_of(text, place, self._units)) for place in ends)
        return self.types.Range(start=start, end=end)

    def _units(self, text: str) -> int:
        """How long a piece of text is in the encoding that client and server agreed on."""
        units: int = self.server.workspace.position_codec.client_num_units(text)
        return units

    def _path(self, uri: str) -> str:
        from pygls.uris import to_fs_path

        path = Path(to_fs_path(uri) or uri).resolve()
        return path.relative_to(self.desk.root).as_posix() if path.is_relative_to(self.desk.root) else path.as_posix()

    def _uri(self, file: str) -> str:
        return (self.desk.root / file).as_uri()
