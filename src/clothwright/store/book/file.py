"""The workbook's folder: read whole, saved so that a power cut leaves the last saved state.

Order of a save: new drawings first, each written to the side, flushed and renamed under a name
that no saved state uses; then workbook.toml, which names them, is replaced in one step; drawings
that it no longer names are removed last. Whatever moment the power goes, workbook.toml is whole
and every drawing it names is there.
"""

from __future__ import annotations

import contextlib
import re
import shlex
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields, replace
from pathlib import Path
from typing import NamedTuple

from clothwright.errors import BadInput, ClothwrightError, Mistakes
from clothwright.pattern.piece import Piece
from clothwright.store.book.format import (
    FORMAT,
    drawings,
    read_book,
    read_table,
    said_by,
    to_plain,
    up_to_date,
)
from clothwright.store.book.lock import Lock, Note, digest, held
from clothwright.store.book.piece_read import piece_from_svg
from clothwright.store.book.piece_svg import piece_to_svg
from clothwright.store.book.shapes import drawing_key, settled
from clothwright.store.book.sync import fresh, synced
from clothwright.store.book.upgrade import format_of
from clothwright.store.disk import BOOK_FILE, make_folder, readable, write_whole
from clothwright.store.folder import placed, refuse_links, remove_drafts
from clothwright.workbook import Step, Workbook

PIECES = "pieces"
COPIES = "history/copies"
OURS = re.compile(rf"{PIECES}/[^/\\:\0]+\.svg")
"""The names that `free_name` gives to drawings."""
NOT_SAVED = "the workbook could not be saved"
SAFE = "the last saved state is as it was"
HEAD = """Clothwright workbook: read it, edit it, add comments; they stay.
Lengths are text such as "5/8 in" or "43,5 cm"; a bare number counts in `unit`.
The pieces as bought lie in the folder "pieces"; the changes below are replayed on them."""


def is_workbook(folder: Path) -> bool:
    """Tell whether a folder holds a workbook."""
    return (folder / BOOK_FILE).is_file()


def was_workbook(folder: Path) -> bool:
    """Tell whether copies of earlier states lie in a folder, so that one may be brought back."""
    with contextlib.suppress(OSError):
        return any((folder / COPIES).iterdir())
    return False


@contextlib.contextmanager
def way_back_named(folder: Path) -> Iterator[None]:
    """Name the command that brings an earlier state back where an error says nothing to try.

    Raises what is raised inside: BadInput, Mistakes.
    """
    try:
        yield
    except BadInput as error:
        raise _with_way_back(error, folder) from None
    except Mistakes as error:
        *others, last = error.mistakes
        raise Mistakes([*others, _with_way_back(last, folder)]) from None


def _with_way_back(error: BadInput, folder: Path) -> BadInput:
    if error.try_ or not was_workbook(folder):
        return error
    return BadInput(
        what=error.what,
        where=error.where,
        expected=error.expected,
        try_=f"bringing an earlier state back: clothwright recover {shlex.quote(str(folder))}",
    )


def holds_workbook(folder: Path) -> bool:
    """Tell whether a folder holds a workbook, or what is left of one."""
    return is_workbook(folder) or was_workbook(folder)


def load(folder: Path) -> Workbook:
    """Return the workbook in a folder. Raises BadInput or Mistakes that name file and line."""
    with way_back_named(folder):
        return _load(folder)


def _load(folder: Path) -> Workbook:
    refuse_links(folder)
    text = read_text(folder)
    while True:
        try:
            return read_book(text, BOOK_FILE, lambda name, file: drawn(folder, name, file))
        except ClothwrightError:
            again = read_text(folder)
            if again == text:
                raise
            text = again  # somebody saved while we were reading


def read_text(folder: Path) -> str:
    """Return the text of a folder's workbook.toml. Raises BadInput."""
    file = folder / BOOK_FILE
    try:
        return readable(file).read_text(encoding="utf-8")
    except FileNotFoundError:
        raise BadInput(
            where=str(folder),
            what="there is no workbook in this folder",
            expected=f"a folder with a {BOOK_FILE}",
            try_="" if was_workbook(folder) else f"clothwright new {folder}",
        ) from None
    except NotADirectoryError:
        raise BadInput(
            where=str(folder), what="this is a file", expected="a workbook's folder"
        ) from None
    except UnicodeDecodeError as error:
        raise BadInput(
            where=BOOK_FILE,
            what=f"byte {error.start} is not UTF-8 text",
            expected="a text file in UTF-8",
        ) from None
    except OSError as error:
        raise BadInput(where=str(file), what=f"it cannot be read ({error.strerror})") from None


def drawn(folder: Path, name: str, file: str) -> Piece:
    """Return the piece of a drawing, under the name workbook.toml gives it. Raises BadInput."""
    return piece_of(drawing(folder, name, file), name, file)


def drawing(folder: Path, name: str, file: str) -> bytes:
    """Return a piece's drawing as it lies in the folder. Raises BadInput, also for one outside."""
    try:
        return readable(placed(folder, file)).read_bytes()
    except OSError as error:
        raise BadInput(
            what=f'the drawing {file} of "{name}" cannot be read ({error.strerror})',
            expected="the drawing, or no entry for this piece",
        ) from None


def piece_of(data: bytes, name: str, file: str) -> Piece:
    """Return the piece that a drawing shows, under a name. Raises BadInput."""
    piece = piece_from_svg(data, file)
    return piece if piece.name == name else replace(piece, name=name)


def create(folder: Path, book: Workbook) -> None:
    """Make a new workbook in a folder. Raises BadInput when there is one already."""
    if is_workbook(folder):
        raise BadInput(
            where=str(folder),
            what="there is a workbook in this folder already",
            expected="a new folder",
            try_="another name; nothing was changed",
        )
    if was_workbook(folder):
        raise BadInput(
            where=str(folder),
            what=f"there was a workbook in this folder; its {BOOK_FILE} is gone",
            expected="a new folder",
            try_=f"clothwright recover {shlex.quote(str(folder))}",
        )
    if folder.exists() and not folder.is_dir():
        raise BadInput(where=str(folder), what="this is a file", expected="a new folder")
    make_folder(folder / PIECES)
    save(book, folder)


def save(book: Workbook, folder: Path) -> None:
    """Save a workbook into its folder, whole or not at all.

    A workbook.toml that cannot be read (a slip in an edit by hand) is never overwritten. Raises
    BadInput, Mistakes.
    """
    with held(folder, NOT_SAVED, SAFE) as lock:
        text = read_text(folder) if is_workbook(folder) else None
        there = {} if text is None else _readable(folder, text)
        put_down(folder, made_ready(book, folder, text, there), text, lock)


def _readable(folder: Path, text: str) -> dict[str, Piece]:
    """Return the pieces whose drawings can be read, by the key of each drawing."""
    out = {}
    for row in read_table(text, BOOK_FILE).pieces:
        with contextlib.suppress(ClothwrightError):
            out[row.key] = drawn(folder, row.name, row.file)
    return out


class Ready(NamedTuple):
    """A state about to be saved: workbook.toml, the file of each piece, and the drawings to write.

    book: the workbook as it will be read again. files: by the key of each drawing (drawing_key).
    gone: drawings that the state before names and this one does not.
    """

    text: str
    files: dict[str, str]
    new: dict[str, bytes]
    gone: frozenset[str]
    book: Workbook


def made_ready(book: Workbook, folder: Path, text: str | None, there: Mapping[str, Piece]) -> Ready:
    """Return what saving a workbook would write, over the text that is there; write nothing.

    there: the pieces as they are drawn in the folder now, by the key of each drawing; a drawing is
    written only for a piece that is another one. Raises BadInput or Mistakes when the text there
    cannot be read, or the workbook would not come back as it is.
    """
    old_table = None if text is None else read_table(text, BOOK_FILE)
    old = {} if old_table is None else {p.key: p.file for p in old_table.pieces}
    files, new = _place_pieces(book, folder, old, there)
    plain = to_plain(book, files)
    known: tuple[Step, ...] = ()
    if text is None or old_table is None:
        whole = fresh(plain, HEAD)
    else:
        same_unit = old_table.book.unit is book.unit
        known = old_table.book.steps if same_unit else ()
        said = said_by(old_table, book.unit)
        whole = synced(up_to_date(text, BOOK_FILE), said, plain, bare_counts_anew=not same_unit)
    again = _proven(whole, book, files, known)
    return Ready(whole, files, new, frozenset(old.values()) - set(files.values()), again)


def put_down(folder: Path, ready: Ready, text: str | None, lock: Lock) -> None:
    """Write a state made ready, in the order that a power cut cannot hurt. text: what is there.

    Raises OSError when the disk fails; the state before is then as it was.
    """
    if text is not None and ready.text != text:
        _keep_old_format(folder, text)
    new = {name: placed(folder, name) for name in ready.new}
    noted = {(name, digest(data)) for name, data in ready.new.items()}
    gone = {(name, _lies(folder, name)) for name in ready.gone - set(ready.files.values())}
    lock.note(noted | gone)
    try:
        for name, file in new.items():
            write_whole(file, ready.new[name])
        if ready.text != text:
            write_book(folder, ready.text.encode("utf-8"))
    except OSError:
        _remove(folder, noted)
        raise
    _remove(folder, gone)
    tidy(folder, lock, ready.files.values())


def write_book(folder: Path, data: bytes, *, like: Path | None = None) -> None:
    """Write workbook.toml whole; where that is a link, the file it leads to. Raises OSError.

    like: a file that a new one is as open as.
    """
    file = folder / BOOK_FILE
    write_whole(file.resolve() if file.is_symlink() else file, data, like=like)


def tidy(folder: Path, lock: Lock, files: Iterable[str]) -> None:
    """Remove what a save that died left behind. files: the drawings that workbook.toml names."""
    named = set(files)
    _remove(folder, {note for note in lock.left_over if note[0] not in named})
    remove_drafts(folder)


def _keep_old_format(folder: Path, text: str) -> None:
    version = format_of(text, FORMAT, BOOK_FILE)
    kept = folder / f"workbook.format-{version}.toml"
    if version != FORMAT and not kept.exists():
        write_whole(kept, text.encode("utf-8"))


def _proven(
    text: str, book: Workbook, files: Mapping[str, str], known: tuple[Step, ...]
) -> Workbook:
    """Return what is about to be saved, read back. Raises BadInput when it would be different."""
    pieces = {files[drawing_key(p.name, size)]: p for p, size in drawings(book.bought)}
    again = read_book(text, BOOK_FILE, lambda _, file: pieces[file], known)
    steps = tuple(replace(s, params=settled(s.params)) for s in book.steps)
    for f in (f for f in fields(Workbook) if f.compare):
        if getattr(again, f.name) != (steps if f.name == "steps" else getattr(book, f.name)):
            raise BadInput(
                where=f"saving, {f.name}",
                what="something in it would not come back as it is",
                expected="plain text, finite lengths and whole tables",
                try_="another value; nothing was changed",
            )
    return again


def _place_pieces(
    book: Workbook, folder: Path, old: Mapping[str, str], there: Mapping[str, Piece]
) -> tuple[dict[str, str], dict[str, bytes]]:
    """Return each piece's file, and the drawings to write under names that nothing uses."""
    files: dict[str, str] = {}
    new: dict[str, bytes] = {}
    taken = set(old.values())
    for piece, size in drawings(book.bought):
        key = drawing_key(piece.name, size)
        if key in old and there.get(key) == piece:
            files[key] = old[key]
            continue
        files[key] = name = free_name(f"{piece.name} {size}".strip(), taken, folder)
        taken.add(name)
        new[name] = _proven_drawing(piece)
    return files, new


def pieces_of(book: Workbook) -> dict[str, Piece]:
    """Return the pieces of a workbook by the key of each drawing."""
    return {drawing_key(p.name, size): p for p, size in drawings(book.bought)}


def _proven_drawing(piece: Piece) -> bytes:
    """Return the piece's drawing. Raises BadInput when it would not come back as it is."""
    data = piece_to_svg(piece).encode("utf-8", errors="replace")
    again: Piece | None = None
    with contextlib.suppress(ClothwrightError):
        again = piece_from_svg(data, piece.name)
    if again != piece:
        raise BadInput(
            where=f'piece "{piece.name}"',
            what="something in it cannot be written into a drawing",
            expected="names and notes of printable letters, finite measures",
            try_="other names; nothing was changed",
        )
    return data


def free_name(piece: str, taken: set[str], folder: Path) -> str:
    """Return a file for a new drawing that neither the workbook nor anybody else uses."""
    plain = "".join(c if c.isalnum() or c in " -_" else "-" for c in piece)[:60].strip() or "piece"
    lowered = {t.lower() for t in taken}
    names = (f"{PIECES}/{plain}{'' if k == 1 else f' {k}'}.svg" for k in range(1, 1_000_000))
    return next(n for n in names if n.lower() not in lowered and not (folder / n).exists())


def _remove(folder: Path, noted: Iterable[Note]) -> None:
    """Remove drawings, if they still are what was noted of them.

    The names come from files that others may have written: only ours go.
    """
    for name, what in noted:
        if OURS.fullmatch(name):
            with contextlib.suppress(OSError, BadInput):
                file = placed(folder, name)
                if what in ("", digest(readable(file).read_bytes())):
                    file.unlink()


def _lies(folder: Path, name: str) -> str:
    """Return the digest of a drawing as it lies in the folder; "" when it cannot be read."""
    with contextlib.suppress(OSError, BadInput):
        return digest(readable(placed(folder, name)).read_bytes())
    return ""
