"""Typed measurements while they wait and after they were added: kept, so that they can be mended.

While they wait they lie in the inbox; what was added is kept beside the workbook, in `typed/`, one
text for each first piece in it. Nothing of it is part of the workbook.
"""

from __future__ import annotations

import contextlib
import hashlib
import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path as FilePath

from clothwright.errors import BadInput
from clothwright.intake.answers import Answers
from clothwright.intake.typed.file import SUFFIXES, typed_in
from clothwright.intake.typed.lines import MOST_LETTERS, MOST_LINES, text_of
from clothwright.intake.typed.reader import names_in
from clothwright.intake.typed.sheet import Typed
from clothwright.intake.waiting.said import Answered, Waiting
from clothwright.pattern.piece import Piece
from clothwright.store.beside.places import typed_file, typed_folder
from clothwright.store.book.lock import held
from clothwright.store.disk import disk_told, write_whole
from clothwright.units import Unit
from clothwright.workroom.apart.asking import apart
from clothwright.workroom.pieces import inbox

NAME = "measurements.txt"
MOST_KEPT = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """Notes whose pieces were added. key: the file's name without its ending.

    pieces: those of the workbook it is about. by_place: the same by their place in the text.
    """

    key: str
    pieces: tuple[str, ...]
    by_place: Mapping[int, str]


def is_notes(one: Waiting) -> bool:
    """Tell whether a waiting file is typed measurements that can be read as text."""
    if one.stored.suffix not in SUFFIXES:
        return False
    try:
        notes_in(one)
    except (BadInput, OSError):
        return False
    return True


def notes_in(one: Waiting) -> str:
    """Return the text of waiting measurements. Raises BadInput, OSError."""
    return text_of(one.stored.read_bytes(), one.file)


def typed_of(one: Waiting, unit: Unit) -> Typed:
    """Return what waiting measurements hold, slips and all. Raises BadInput, OSError."""
    return apart(one.file, typed_in, one.stored.read_bytes(), one.file, unit)


def digest(text: str) -> str:
    """Return what a text is known by between requests: another text has another one."""
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def begin(folder: FilePath, text: str) -> Waiting:
    """Put typed measurements into the inbox. Raises BadInput, CannotDo."""
    return inbox.put_in(folder, _file_name(text), _data(text))


def retype(folder: FilePath, key: str, text: str, base: str) -> Waiting:
    """Keep another text of waiting measurements. base: digest of the text it was made from.

    Raises BadInput when it was changed meanwhile on another device; nothing is overwritten then.
    """
    data = _data(text)

    def change(one: Waiting) -> Waiting:
        if one.stored.suffix not in SUFFIXES:
            raise BadInput(where=one.file, what="it was not typed here")
        before = notes_in(one)
        if base != digest(before) and before != text:
            raise BadInput(
                where="measurements",
                what="they were changed meanwhile on another device or in another window",
                expected="the text as it was saved",
                try_="copying what you typed, then loading the page again",
            )
        with disk_told("measurements", "they could not be saved"):
            write_whole(one.stored, data)
        file = _file_name(text) if one.file.endswith(NAME) else one.file
        return replace(one, file=file, said=_by_name(one, before, text))

    return inbox.answer(folder, key, change)


def _by_name(one: Waiting, before: str, after: str) -> Mapping[int, Answered]:
    """Return what was answered, each piece's beside its name wherever it now stands in the text.

    A piece with another name keeps its answers, but not the word that it may take the place of a
    piece in the workbook: that was said of the name it had.
    """
    old, new = names_in(before), names_in(after)
    if old == new:
        return one.said
    said: dict[int, Answered] = {}
    for n, name in enumerate(new):
        if name in old:
            said[n] = one.about(old.index(name))
        elif n < len(old) and old[n] not in new:
            own = one.about(n)
            said[n] = own if own.answers.name else replace(own, replace="")
    return {n: own for n, own in said.items() if own != Answered()}


def _data(text: str) -> bytes:
    if len(text) > MOST_LETTERS or text.count("\n") > MOST_LINES:
        raise BadInput(
            where="measurements",
            what="the text is too long",
            expected=f"at most {MOST_LINES:,} lines and {MOST_LETTERS:,} letters",
            try_="fewer pieces at a time",
        )
    return (text.replace("\r\n", "\n") or "\n").encode()


def _file_name(text: str) -> str:
    """Return what a typed text is called: by the first piece it names."""
    first = next((n for n in names_in(text) if n), "")
    name = " ".join(re.sub(r"[^\w ' -]", " ", first).split())[:40]
    return f"{name}, {NAME}" if name else NAME


# --- what was added -------------------------------------------------------------------------------


def keep(folder: FilePath, text: str, pieces: tuple[Piece, ...]) -> None:
    """Keep the text of pieces that were added, in the place of an earlier one about the same.

    When the disk fails the pieces are in the workbook all the same, and the text is not kept.
    """
    if not pieces or not text.strip():
        return
    with contextlib.suppress(BadInput), held(folder):
        write_whole(typed_file(folder, pieces[0].name), text.encode())


def keep_file(folder: FilePath, file: FilePath, pieces: tuple[Piece, ...]) -> None:
    """Keep the text of pieces that were added from a file, if they were typed; else do nothing."""
    if file.suffix.lower() in SUFFIXES:
        keep(folder, text_of(file.read_bytes(), file.name), pieces)


def kept(folder: FilePath, present: Mapping[str, object]) -> tuple[Kept, ...]:
    """Return the kept texts that name a piece the workbook has. present: pieces by name."""
    out = []
    try:
        files = sorted(typed_folder(folder).glob("*.txt"))[:MOST_KEPT]
    except OSError:
        return ()
    for file in files:
        try:
            text = text_of(file.read_bytes(), file.name)
        except (BadInput, OSError):
            continue
        one = _kept_one(file.stem, names_in(text), present)
        if one.pieces:
            out.append(one)
    return tuple(out)


def _kept_one(key: str, named: tuple[str, ...], present: Mapping[str, object]) -> Kept:
    """Return which pieces of the workbook a kept text is about. named: as it names them.

    The first may have been added under another name: it is then the one that the key was made of.
    """
    own = next((n for n in present if typed_file(FilePath(), n).stem == key and n not in named), "")
    by_place = {n: name for n, name in enumerate(named) if name in present}
    if own:
        by_place = {**by_place, 0: own}
    return Kept(key=key, pieces=tuple(by_place[n] for n in sorted(by_place)), by_place=by_place)


def again(folder: FilePath, key: str, present: Mapping[str, object]) -> Waiting:
    """Put a kept text into the inbox once more, its pieces to take the place of those there.

    key: looked up among the kept ones, never made a path. Raises BadInput, CannotDo.
    """
    one = next((k for k in kept(folder, present) if k.key == key), None)
    if one is None:
        raise BadInput(what="these measurements are not kept", expected="one of those shown")
    text = text_of((typed_folder(folder) / f"{one.key}.txt").read_bytes(), one.key)
    waiting = begin(folder, text)
    named = names_in(text)
    said = {
        n: Answered(replace="yes", answers=Answers(name="" if named[n] == name else name))
        for n, name in one.by_place.items()
        if n < len(named)
    }
    return inbox.answer(folder, waiting.id, lambda w: replace(w, said=said))
