"""Drawings that have come in and wait for answers: kept beside the workbook until they are added.

Each lies in a folder of its own, as it came, with what has been answered about it. Nothing of it is
part of the workbook; putting it off, closing the page or a power cut loses nothing.
"""

from __future__ import annotations

import json
import re
import secrets
import shutil
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, field, fields, replace
from datetime import UTC, datetime
from pathlib import Path as FilePath

from clothwright.errors import BadInput, CannotDo
from clothwright.intake import Answers
from clothwright.store.book.file import write_whole
from clothwright.store.book.lock import held
from clothwright.workroom.pieces.adding import reader_of

FORMAT = "clothwright-inbox/1"
INBOX = "inbox"
SITTING = "sitting.json"
MOST_WAITING = 30
LONGEST = 2_000
"""Letters of an answer."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """What was answered about one outline.

    take: "yes" or "no", "" not answered. replace: "yes" to put it in the place of a piece of its
    name. answers: `allowance` and `add` without edges of their own; those stand in widths (edge:
    length as typed).
    """

    take: str = ""
    replace: str = ""
    answers: Answers = field(default_factory=Answers)
    widths: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiting:
    """A drawing in the inbox. file: what it was called. came: when, UTC. said: by outline.

    scale, size: the answers about the whole drawing, "" while there are none. how: those by which
    the file is read (tiles, shift, moved, layers).
    """

    id: str
    file: str
    came: str
    stored: FilePath
    scale: str = ""
    size: str = ""
    how: Answers = Answers()  # noqa: RUF009
    said: Mapping[int, Said] = field(default_factory=dict)

    def about(self, outline: int) -> Said:
        """Return what was answered about an outline (from 0)."""
        return self.said.get(outline, Said())


def put_in(folder: FilePath, file: str, data: bytes) -> Waiting:
    """Put a drawing into a workbook's inbox. Raises BadInput when no reader can read its name.

    What is in the file is not looked at here: `sitting.look` reads it.
    """
    name = " ".join(re.split(r"[/\\]", file)[-1].split())[:120]
    reader = reader_of(name)
    if not data:
        raise BadInput(where=name, what="the file is empty", expected=f"a {reader.title}")
    if len(waiting(folder)) >= MOST_WAITING:
        raise CannotDo(
            what=f'"{name}" was not taken in',
            why=f"{MOST_WAITING} drawings are waiting already",
            nearest="to add or to throw away some of them first",
        )
    now = datetime.now(UTC)
    key = f"{now:%Y%m%d-%H%M%S}-{secrets.token_hex(3)}"
    suffix = next(s for s in reader.suffixes if name.lower().endswith(s))
    place = folder / INBOX / key
    try:
        write_whole(place / f"drawing{suffix}", data)
        one = Waiting(id=key, file=name, came=now.isoformat(), stored=place / f"drawing{suffix}")
        _write(place, one)
    except OSError as error:
        shutil.rmtree(place, ignore_errors=True)
        raise _unwritten(error) from None
    return one


def waiting(folder: FilePath) -> tuple[Waiting, ...]:
    """Return the drawings of a workbook's inbox, oldest first; damaged ones are passed over."""
    try:
        names = sorted(p.name for p in (folder / INBOX).iterdir() if p.is_dir())
    except OSError:
        return ()
    found = (_read(folder, name) for name in names)
    return tuple(w for w in found if w is not None)


def one_waiting(folder: FilePath, key: str) -> Waiting:
    """Return a drawing of the inbox. Raises BadInput. The key is looked up, never made a path."""
    for one in waiting(folder):
        if one.id == key:
            return one
    raise BadInput(
        what="there is no such drawing in the inbox",
        expected="one that is waiting",
        try_="choosing the file again",
    )


def throw_away(folder: FilePath, key: str) -> None:
    """Take a drawing out of the inbox. Raises BadInput."""
    one = one_waiting(folder, key)
    with held(folder):
        shutil.rmtree(one.stored.parent, ignore_errors=True)


def answer(folder: FilePath, key: str, change: Callable[[Waiting], Waiting]) -> Waiting:
    """Keep other answers about a drawing; two devices answer one after the other.

    change: from what is answered now to what it becomes; what it raises is passed on and nothing
    is written. Raises BadInput.
    """
    with held(folder):
        one = one_waiting(folder, key)
        after = change(one)
        try:
            _write(one.stored.parent, after)
        except OSError as error:
            raise _unwritten(error) from None
    return after


def with_answers(one: Waiting, outline: int, **values: str | tuple[str, ...]) -> Waiting:
    """Return the drawing with other answers about an outline. Raises BadInput for too long ones."""
    for name, value in values.items():
        if len(str(value)) > LONGEST:
            raise BadInput(where=name, what="the answer is too long", expected="a short one")
    said = one.about(outline)
    own = {k: v for k, v in values.items() if k in ("take", "replace")}
    rest = {k: v for k, v in values.items() if k not in own}
    answers = replace(said.answers, **rest)  # type: ignore[arg-type]
    new = replace(said, answers=answers, **own)  # type: ignore[arg-type]
    return replace(one, said={**one.said, outline: new})


def _unwritten(error: OSError) -> BadInput:
    return BadInput(
        where="inbox",
        what=f"it could not be kept ({error.strerror or error})",
        expected="a disk that can be written to",
        try_="again when there is room",
    )


def _write(place: FilePath, one: Waiting) -> None:
    said = {
        str(k): {
            "take": s.take,
            "replace": s.replace,
            "answers": {n: v for n, v in asdict(s.answers).items() if v},
            "widths": dict(s.widths),
        }
        for k, s in one.said.items()
    }
    plain = {
        "format": FORMAT,
        "file": one.file,
        "came": one.came,
        "scale": one.scale,
        "size": one.size,
        "how": {n: v for n, v in asdict(one.how).items() if v},
        "said": said,
    }
    write_whole(place / SITTING, json.dumps(plain, indent=1).encode("utf-8"))


def _read(folder: FilePath, key: str) -> Waiting | None:
    place = folder / INBOX / key
    try:
        data = json.loads((place / SITTING).read_text(encoding="utf-8"))
        stored = next(p for p in sorted(place.iterdir()) if p.stem == "drawing")
        if data["format"] != FORMAT:
            return None
        return Waiting(
            id=key,
            file=str(data["file"]),
            came=str(data["came"]),
            stored=stored,
            scale=str(data["scale"]),
            size=str(data.get("size", "")),
            how=_answers(data.get("how", {})),
            said={int(k): _said(v) for k, v in data["said"].items()},
        )
    except (OSError, ValueError, KeyError, TypeError, AttributeError, StopIteration):
        return None


def _said(data: Mapping[str, object]) -> Said:
    answers, widths = data["answers"], data["widths"]
    if not isinstance(answers, dict) or not isinstance(widths, dict):
        raise TypeError("not tables")
    return Said(
        take=str(data["take"]),
        replace=str(data["replace"]),
        answers=_answers(answers),
        widths={str(k): str(v) for k, v in widths.items()},
    )


def _answers(data: object) -> Answers:
    """Return answers from a table; what this version does not know is left out."""
    known = {f.name for f in fields(Answers)}
    values = {
        k: tuple(map(str, v)) if isinstance(v, list) else str(v)
        for k, v in (data.items() if isinstance(data, dict) else ())
        if k in known
    }
    return Answers(**values)  # type: ignore[arg-type]
