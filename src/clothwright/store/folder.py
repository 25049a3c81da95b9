"""What is looked at before a workbook's folder is read or written: that all in it is its own.

A folder may have come from anybody. A link in it would have the program read, write or remove what
lies elsewhere; a pipe would have it wait for ever. Neither is ever followed or opened.
"""

from __future__ import annotations

import contextlib
import os
import re
import stat
import sys
from collections.abc import Iterator
from pathlib import Path

from clothwright.errors import BadInput
from clothwright.store.disk import BOOK_FILE, is_left_over, readable

LOCK = ".saving"
OWN = re.compile(
    r"pieces|pictures|history|lays|ticks|inbox|photos|typed|set-aside|chart\.json"
    rf"|{re.escape(LOCK)}|workbook\.format-[0-9]+\.toml|\..+\.part"
)
"""What the program itself keeps in a workbook's folder; all else there is the maker's."""
APPENDED = "history/steps.jsonl"
"""The file that is written to where it lies, and not replaced."""
INSIDE = re.compile(r"[^/\\:\0]+(/[^/\\:\0]+)*")
PUT_BACK = "putting what it leads to in its place; nothing was changed"


def own_entries(folder: Path) -> Iterator[os.DirEntry[str]]:
    """Yield all that the program keeps in a workbook's folder; no link is followed.

    A folder that cannot be looked into is passed over: what is in it cannot be read either.
    """
    waiting = [os.fspath(folder)]
    while waiting:
        place = waiting.pop()
        with contextlib.suppress(OSError), os.scandir(place) as found:
            for entry in found:
                if place != os.fspath(folder) or OWN.fullmatch(entry.name):
                    yield entry
                    if not _is_link(entry) and entry.is_dir(follow_symlinks=False):
                        waiting.append(entry.path)


def refuse_links(folder: Path) -> None:
    """Raise BadInput when something of the workbook is a link, or no file and no folder.

    workbook.toml itself may be a link to another file, and the folder may be one.
    """
    book = folder / BOOK_FILE
    if not book.is_file() and (book.is_symlink() or (book.exists() and not book.is_dir())):
        raise _refused(folder, BOOK_FILE, "leads to no file", f"a file {BOOK_FILE}")
    for entry in own_entries(folder):
        if _is_link(entry):
            name = Path(entry.path).relative_to(folder).as_posix()
            raise _refused(folder, name, "is a link, and may lead out of the workbook")
        if not entry.is_file(follow_symlinks=False) and not entry.is_dir(follow_symlinks=False):
            name = Path(entry.path).relative_to(folder).as_posix()
            what = "is neither a file nor a folder"
            raise _refused(folder, name, what, try_="taking it away; nothing was changed")
    with contextlib.suppress(OSError):
        record = folder / APPENDED
        if record.is_file() and record.stat().st_nlink > 1:
            what = "stands in another folder too (it is a hard link), and would be written to there"
            raise _refused(folder, APPENDED, what, try_="putting a copy of it in its place")


def placed(folder: Path, file: str) -> Path:
    """Return where a file lies that workbook.toml or a copy of it names. Raises BadInput.

    Only what lies in the folder, and no link, is ever read or written by such a name.
    """
    if not INSIDE.fullmatch(file) or {".", ".."} & set(file.split("/")):
        raise BadInput(
            what=f'the file "{file}" lies outside the workbook',
            expected='a file such as "pieces/front.svg"',
        )
    place = folder
    for part in file.split("/"):
        place /= part
        if place.is_symlink():
            raise _refused(folder, file, "is a link, and may lead out of the workbook")
    if place.exists() and not place.is_file():
        raise BadInput(what=f'"{file}" is no file', expected='a file such as "pieces/front.svg"')
    return place


def _refused(
    folder: Path, name: str, what: str, expected: str = "", try_: str = PUT_BACK
) -> BadInput:
    return BadInput(
        where=str(folder),
        what=f'"{name}" in it {what}',
        expected=expected or "files and folders of its own",
        try_=try_,
    )


def _is_link(entry: os.DirEntry[str]) -> bool:
    """Tell whether an entry leads elsewhere; on Windows a folder may do so as a junction, too."""
    if sys.platform == "win32":
        tag = entry.stat(follow_symlinks=False).st_reparse_tag
        return entry.is_symlink() or tag == stat.IO_REPARSE_TAG_MOUNT_POINT
    return entry.is_symlink()


# --- drafts ---------------------------------------------------------------------------------------


def remove_drafts(folder: Path) -> None:
    """Remove the drafts of writers that died, wherever they lie in the workbook."""
    book = (folder / BOOK_FILE).resolve()
    if book.parent != folder.resolve():  # it is a link
        with contextlib.suppress(OSError):
            for draft in book.parent.glob(f".{book.name}.*.part"):
                _remove_left_over(draft)
    for entry in own_entries(folder):
        if entry.name.endswith(".part") and entry.is_file(follow_symlinks=False):
            _remove_left_over(Path(entry.path))


def _remove_left_over(draft: Path) -> None:
    with contextlib.suppress(OSError):
        if is_left_over(draft):
            draft.unlink()


# --- copies of a syncing folder -------------------------------------------------------------------

COPY = re.compile(
    r"(.+?)(?: ?\((?:[0-9]{1,3}|[^()]*[ck]onfli[ck]?t[^()]*)\)| [0-9]{1,2}"
    r"|[ ._-]+(?:sync-)?[ck]onfli[ck]?t.*)(\.[a-z]+)",
    re.IGNORECASE,
)
"""Names of a second copy, from memory: "workbook (1).toml", "workbook 2.toml",
"workbook (conflicted copy 2030-01-31).toml", "workbook.sync-conflict-20300131-101500-ABC.toml"."""
COPIED = ("", "pieces", "history", "lays", "ticks", "inbox", "pictures", "photos", "typed")
NAMED = ("pieces", "pictures")
"""Where drawings and pictures may be called as a copy is: what workbook.toml names is none."""


def sync_copies(folder: Path) -> tuple[str, ...]:
    """Return copies that a folder kept alike on several devices has left beside the files, by path.

    A copy is one of a file that is there. A drawing or picture that workbook.toml names, or a save
    that is not through, is none, whatever it is called. Raises nothing.
    """
    found: list[str] = []
    for place in (*COPIED, *_waiting(folder)):
        names = _names(folder / place)
        ours = names if place else names & {BOOK_FILE, "chart.json"}
        copies = [n for n in names if (it := COPY.fullmatch(n)) and it[1] + it[2] in ours]
        if copies and place in NAMED:
            known = _text(folder / BOOK_FILE) + _text(folder / LOCK)
            copies = [n for n in copies if f'{place}/{n}"' not in known and f'"{n}"' not in known]
        found += [f"{place}/{n}".lstrip("/") for n in copies]
    return tuple(sorted(found))


def _waiting(folder: Path) -> list[str]:
    """Return the folders of what waits to be added."""
    with contextlib.suppress(OSError), os.scandir(folder / "inbox") as found:
        return [f"inbox/{e.name}" for e in found if e.is_dir(follow_symlinks=False)]
    return []


def _names(place: Path) -> frozenset[str]:
    with contextlib.suppress(OSError), os.scandir(place) as found:
        return frozenset(e.name for e in found if e.is_file(follow_symlinks=False))
    return frozenset()


def _text(file: Path) -> str:
    with contextlib.suppress(OSError, ValueError):
        return readable(file).read_text(encoding="utf-8")
    return ""
