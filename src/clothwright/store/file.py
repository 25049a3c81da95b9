"""The workbook's folder: read whole, saved so that a power cut leaves the last saved state.

Order of a save: new drawings first, each written to the side, flushed and renamed under a name
that no saved state uses; then workbook.toml, which names them, is replaced in one step; drawings
that it no longer names are removed last. Whatever moment the power goes, workbook.toml is whole
and every drawing it names is there.
"""

from __future__ import annotations

import contextlib
import os
import re
import time
from collections.abc import Iterator
from pathlib import Path

from clothwright.errors import BadInput, ClothwrightError, Mistakes
from clothwright.pattern.piece import Piece
from clothwright.store.format import read_table, to_plain, to_workbook
from clothwright.store.models import BookTable
from clothwright.store.piece_svg import piece_from_svg, piece_to_svg
from clothwright.store.sync import fresh, synced
from clothwright.workbook import Workbook

BOOK_FILE = "workbook.toml"
PIECES = "pieces"
LOCK = ".saving"
LOCK_STALE_S = 30.0
"""A lock older than this was left behind by a process that died while saving."""
HEAD = """Clothwright workbook: read it, edit it, add comments; they stay.
Lengths are text such as "5/8 in" or "43,5 cm"; a bare number counts in `unit`.
The pieces as bought lie in the folder "pieces"; the changes below are replayed on them."""


def is_workbook(folder: Path) -> bool:
    """Tell whether a folder holds a workbook."""
    return (folder / BOOK_FILE).is_file()


def load(folder: Path) -> Workbook:
    """Return the workbook in a folder. Raises BadInput or Mistakes that name file and line."""
    text = _read_text(folder)
    table = read_table(text, BOOK_FILE)
    pieces: list[Piece] = []
    mistakes: list[BadInput] = []
    for entry in table.piece:
        try:
            pieces.append(_load_piece(folder, entry.name, entry.file))
        except BadInput as error:
            mistakes.append(error)
    if len(mistakes) > 1:
        raise Mistakes(mistakes)
    if mistakes:
        raise mistakes[0]
    try:
        return to_workbook(table, tuple(pieces))
    except BadInput as error:
        raise error.at(BOOK_FILE) from None


def _read_text(folder: Path) -> str:
    file = folder / BOOK_FILE
    try:
        return file.read_text(encoding="utf-8")
    except FileNotFoundError:
        raise BadInput(
            where=str(folder),
            what="there is no workbook in this folder",
            expected=f"a folder with a {BOOK_FILE}",
            try_=f"clothwright new {folder}",
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


def _load_piece(folder: Path, name: str, file_name: str) -> Piece:
    where = f"{BOOK_FILE}, piece {name!r}"
    if not re.fullmatch(r"[^/\\]+(/[^/\\]+)*", file_name) or ".." in file_name.split("/"):
        raise BadInput(
            where=where,
            what=f"its file {file_name!r} lies outside the workbook",
            expected=f'a file such as "{PIECES}/{name}.svg"',
        )
    try:
        data = (folder / file_name).read_bytes()
    except OSError as error:
        raise BadInput(
            where=where,
            what=f"its drawing {file_name} cannot be read ({error.strerror})",
            expected="the drawing, or no entry for this piece",
        ) from None
    piece = piece_from_svg(data, file_name)
    if piece.name != name:
        raise BadInput(
            where=where,
            what=f'its drawing {file_name} is of the piece "{piece.name}"',
            expected="the same name in both",
        )
    return piece


def create(folder: Path, book: Workbook) -> None:
    """Make a new workbook in a folder. Raises BadInput when there is one already."""
    if is_workbook(folder):
        raise BadInput(
            where=str(folder),
            what="there is a workbook in this folder already",
            expected="a new folder",
            try_="another name; nothing was changed",
        )
    if folder.exists() and not folder.is_dir():
        raise BadInput(where=str(folder), what="this is a file", expected="a new folder")
    (folder / PIECES).mkdir(parents=True, exist_ok=True)
    save(book, folder)


def save(book: Workbook, folder: Path, *, previous: Workbook | None = None) -> None:
    """Save a workbook into its folder, whole or not at all.

    previous: the workbook as it was loaded; when the folder holds another one by now (somebody
    else saved in between), nothing is written and BadInput says so. Raises BadInput.
    """
    with _lock(folder):
        text = _read_text(folder) if is_workbook(folder) else None
        if previous is not None and text is not None and not _unchanged(folder, previous):
            raise BadInput(
                where=str(folder),
                what="the workbook was changed by somebody else since you opened it",
                expected="the state you opened",
                try_="the same again on the new state; nothing was overwritten",
            )
        old = _old_files(text)
        files, new = _place_pieces(book, folder, old)
        for name, data in new.items():
            _write_whole(folder / name, data)
        plain = to_plain(book, files)
        whole = fresh(plain, HEAD) if text is None else synced(text, plain, book.unit)
        _prove(whole)
        _write_whole(folder / BOOK_FILE, whole.encode("utf-8"))
        _tidy(folder, set(files.values()), set(old.values()))


def _unchanged(folder: Path, previous: Workbook) -> bool:
    try:
        return load(folder) == previous
    except ClothwrightError:
        return False


def _prove(text: str) -> BookTable:
    """Read back what is about to be saved; a fault here is ours, and nothing is written."""
    return read_table(text, BOOK_FILE)


def _old_files(text: str | None) -> dict[str, str]:
    if text is None:
        return {}
    try:
        return {p.name: p.file for p in read_table(text, BOOK_FILE).piece}
    except ClothwrightError:
        return {}


def _place_pieces(
    book: Workbook, folder: Path, old: dict[str, str]
) -> tuple[dict[str, str], dict[str, bytes]]:
    """Return each piece's file, and the drawings to write under names no saved state uses."""
    files: dict[str, str] = {}
    new: dict[str, bytes] = {}
    taken = set(old.values())
    for piece in book.bought.pieces:
        name = old.get(piece.name)
        if name is not None and _holds(folder / name, piece):
            files[piece.name] = name
            continue
        files[piece.name] = name = _free_name(piece.name, taken)
        taken.add(name)
        new[name] = piece_to_svg(piece).encode("utf-8")
    return files, new


def _holds(file: Path, piece: Piece) -> bool:
    try:
        return piece_from_svg(file.read_bytes(), file.name) == piece
    except (OSError, ClothwrightError):
        return False


def _free_name(piece: str, taken: set[str]) -> str:
    plain = "".join(c if c.isalnum() or c in " -_" else "-" for c in piece).strip() or "piece"
    lowered = {t.lower() for t in taken}
    names = (f"{PIECES}/{plain}{'' if k == 1 else f' {k}'}.svg" for k in range(1, 10_000))
    return next(n for n in names if n.lower() not in lowered)


def _write_whole(file: Path, data: bytes) -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    draft = file.with_name(f".{file.name}.{os.getpid()}.part")
    with draft.open("wb") as out:
        out.write(data)
        out.flush()
        os.fsync(out.fileno())
    draft.replace(file)
    _flush_folder(file.parent)


def _flush_folder(folder: Path) -> None:
    """Make a rename last through a power cut (where the system lets a folder be flushed)."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _tidy(folder: Path, used: set[str], old: set[str]) -> None:
    """Remove drawings the old state named and the new one does not, and left-over drafts."""
    for name in old - used:
        with contextlib.suppress(OSError):
            (folder / name).unlink()
    for place in (folder, folder / PIECES):
        for draft in place.glob(".*.part"):
            with contextlib.suppress(OSError):
                if time.time() - draft.stat().st_mtime > LOCK_STALE_S:
                    draft.unlink()


@contextlib.contextmanager
def _lock(folder: Path) -> Iterator[None]:
    """Hold the folder's lock while saving. Raises BadInput when another process is saving."""
    folder.mkdir(parents=True, exist_ok=True)
    lock = folder / LOCK
    for _ in range(200):
        try:
            handle = os.open(lock, os.O_CREAT | os.O_EXCL | os.O_WRONLY)
            break
        except FileExistsError:
            if _left_behind(lock):
                with contextlib.suppress(OSError):
                    lock.unlink()
                continue
            time.sleep(0.02)
    else:
        raise BadInput(
            where=str(folder),
            what="another window or program is saving this workbook",
            expected="one at a time",
            try_="again in a moment; nothing was changed",
        )
    try:
        os.write(handle, str(os.getpid()).encode())
        os.close(handle)
        yield
    finally:
        with contextlib.suppress(OSError):
            lock.unlink()


def _left_behind(lock: Path) -> bool:
    """Tell whether a lock's owner is gone: no such process, or the lock is old."""
    try:
        age = time.time() - lock.stat().st_mtime
        owner = lock.read_text()
    except OSError:
        return False
    if age > LOCK_STALE_S:
        return True
    if not owner.isdigit():
        return age > 1.0
    try:
        os.kill(int(owner), 0)
    except ProcessLookupError:
        return True
    except OSError:
        return False
    return False
