"""Looks at the files that records name as evidence; never at one outside the repository, and never at more than it must."""

from __future__ import annotations

import os
import stat
from typing import TYPE_CHECKING, Any

from jurystrut.records.evidence import EvidenceFile, files_named

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

__all__ = ["look_at", "made_small", "pictures"]

_MOST_FILES = 20_000
_MOST_BYTES = 256 * 1024 * 1024
"""What is read of all files together to compute digests; a file beyond it is not compared, and says so."""

_SMALL_PICTURE, _LARGEST_PHOTO, _MOST_THUMBNAILS = 60_000, 40_000_000, 16_000_000
_MOST_PIXELS = 24_000_000  # in memory at once; a JPEG of any camera is made smaller while it is read

_PICTURES = {".png": "image/png", ".jpg": "image/jpeg", ".jpeg": "image/jpeg", ".webp": "image/webp"}
_PICTURES |= {".gif": "image/gif", ".svg": "image/svg+xml"}


def look_at(root: Path, sections: Mapping[str, Any]) -> dict[str, EvidenceFile]:
    """What there is of every file that a record names, by its path; a digest only where a record gives one.

    Nothing is raised: a file that is missing, leads out of the repository or cannot be read says so in `trouble`.
    """
    digested = {record.file for record in sections.get("evidence", ()) if record.sha256}
    real_root = root.resolve()
    found: dict[str, EvidenceFile] = {}
    left = _MOST_BYTES
    for path in dict.fromkeys(naming.path for naming in files_named(sections)):
        if len(found) == _MOST_FILES:
            found[path] = EvidenceFile(path, trouble=f"not looked at: records name more than {_MOST_FILES} files")
            continue
        found[path] = _looked_at(root, real_root, path, left if path in digested else 0)
        left -= found[path].size if found[path].sha256 else 0
    return found


def _looked_at(root: Path, real_root: Path, path: str, most: int) -> EvidenceFile:
    """One file's size, and its digest where `most` bytes are enough for it."""
    try:
        descriptor = _opened(root, real_root, path)
        with os.fdopen(descriptor, "rb") as file:
            size = os.fstat(descriptor).st_size
            return EvidenceFile(path, size, _digest(file) if 0 < size <= most else None)
    except (OSError, RuntimeError, ValueError) as error:
        twin = _twin(root, path) if isinstance(error, FileNotFoundError) else ""
        return EvidenceFile(path, trouble=_reason(error) + twin)


def _opened(root: Path, real_root: Path, path: str) -> int:
    """A descriptor of an ordinary file inside the repository; OSError or ValueError for anything else."""
    real = (root / path).resolve(strict=True)
    if not real.is_relative_to(real_root):
        raise ValueError("it leads out of the repository")
    if ".git" in real.relative_to(real_root).parts:
        raise ValueError("it lies in git's own folder")
    descriptor = os.open(real, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    if not stat.S_ISREG(os.fstat(descriptor).st_mode):
        os.close(descriptor)
        raise ValueError("it is no ordinary file")
    return descriptor


def _twin(root: Path, path: str) -> str:
    """A word on a file whose name is the same but for capitals, or for accented letters written as one sign or as two."""
    from unicodedata import normalize

    other = next((name for form in ("NFC", "NFD") if (name := normalize(form, path)) != path), None)
    if other is not None and os.path.lexists(root / other):
        return "; one with its accented letters written otherwise is there: write the name anew"
    folder, slash, name = path.rpartition("/")
    stem, dot, ending = name.rpartition(".")
    # Cameras write .JPG, and some systems do not tell capitals from small letters: there, nobody would notice.
    likely = (
        f"{stem}{dot}{ending.lower()}",
        f"{stem}{dot}{ending.upper()}",
        name.lower(),
        name.upper(),
        name.capitalize(),
    )
    there = next((n for n in likely if n != name and os.path.lexists(root / f"{folder}{slash}{n}")), None)
    return f"; '{there}' is there: write the name with the same capitals" if there else ""


def _digest(file: Any) -> str:
    import hashlib

    return hashlib.file_digest(file, "sha256").hexdigest()


def _reason(error: Exception) -> str:
    if isinstance(error, FileNotFoundError):
        return "there is no such file"
    return (error.strerror if isinstance(error, OSError) else None) or str(error)


def pictures(root: Path, evidence: Mapping[str, EvidenceFile]) -> dict[str, tuple[str, bytes]]:
    """Media type and bytes of a thumbnail of every picture among the evidence, by path; no more than 16 MB together.

    A small picture is its own thumbnail. A larger one is made small where the library for it is installed, and left out
    where not, as is one that cannot be read as what its name says.
    """
    real_root, left = root.resolve(), _MOST_THUMBNAILS
    found: dict[str, tuple[str, bytes]] = {}
    for path, file in evidence.items():
        media = _PICTURES.get("." + path.rpartition(".")[2].lower())
        if media is None or file.trouble or not 0 < file.size <= _LARGEST_PHOTO:
            continue
        try:
            with os.fdopen(_opened(root, real_root, path), "rb") as opened:
                data = opened.read(_LARGEST_PHOTO)
        except (OSError, RuntimeError, ValueError):
            continue
        thumbnail = (media, data) if len(data) <= _SMALL_PICTURE else made_small(data)
        if thumbnail and len(thumbnail[1]) <= left:
            left -= len(thumbnail[1])
            found[path] = thumbnail
    return found


def made_small(data: bytes) -> tuple[str, bytes] | None:
    """A photo no larger than a thumbnail is shown in print, upright; None where that cannot be done."""
    import io
    import warnings

    try:
        from PIL import Image, ImageOps
    except ImportError:
        return None
    small = io.BytesIO()
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(io.BytesIO(data), formats=("JPEG", "PNG", "WEBP", "GIF")) as photo:
                photo.draft("RGB", (640, 640))
                if photo.width * photo.height > _MOST_PIXELS:  # a few bytes may stand for very many
                    return None
                upright = ImageOps.exif_transpose(photo).convert("RGB")
        upright.thumbnail((640, 640))
        upright.save(small, "JPEG", quality=80)
    except Exception:  # noqa: BLE001 - on broken files the library raises errors of every kind, and a page does without
        return None
    return "image/jpeg", small.getvalue()
