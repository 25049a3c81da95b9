"""A workbook damaged anywhere is a whole state or a sentence, everywhere; nothing else is touched.

A share of the mutants is made in the suite; all of them with CLOTHWRIGHT_EVERY_MUTANT=1.
"""

from __future__ import annotations

import io
import json
import os
import resource
import shutil
import threading
import time
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image

from clothwright.cli.app import run
from clothwright.cloth.prints import PrintPicture
from clothwright.errors import ClothwrightError
from clothwright.geometry.transform import translation
from clothwright.pattern.whole import moved
from clothwright.store import create, keep_picture, load
from clothwright.store.beside.kept import Damaged, Format, read_kept, write_kept, write_plain
from clothwright.store.beside.places import (
    cloth_photos,
    found_file,
    inbox,
    said_file,
    table_file,
    ways_file,
    yardage_file,
)
from clothwright.store.book.lock import LOCK
from clothwright.store.book.piece_svg import piece_to_svg
from clothwright.store.history.record import RECORD
from clothwright.store.noticed import AWAY
from clothwright.web.pages import PAGES
from clothwright.workroom.apart import asking
from clothwright.workroom.cutting.ticks import set_ticks
from clothwright.workroom.pieces import typing
from clothwright.workroom.pieces.inbox import answer, put_in
from clothwright.workroom.pieces.photo_said import set_bar
from clothwright.workroom.pieces.seam_choices import refuse
from clothwright.workroom.planning.chart import Cells
from clothwright.workroom.searching.laying import compile_plan
from tests.store.beside.test_kept import BEFORE, ROWS
from tests.store.book.test_file import BOOK
from tests.store.history.saving import save_step
from tests.store.mutants import DAMAGES, Mutant, mutants, plain
from tests.store.watching import watched
from tests.words.shown import PLACE, desk_on, put

EVERY = bool(os.environ.get("CLOTHWRIGHT_EVERY_MUTANT"))
SHARE = 40
PRINTED = 8
"""Each of so many, one is printed and gets its guide, too; all when all mutants are made."""

pytestmark = pytest.mark.skipif(os.name != "posix", reason="links and pipes are those of POSIX")


def jpeg() -> bytes:
    """A small picture."""
    out = io.BytesIO()
    Image.new("RGB", (320, 240), (200, 180, 160)).save(out, "JPEG")
    return out.getvalue()


def full(folder: Path) -> Path:
    """Make a workbook that has something of everything the program keeps."""
    create(folder, BOOK)
    picture = PrintPicture(file=keep_picture(folder, jpeg()), width=60.0, height=48.0)
    check = BOOK.cloths[0]
    cloth = replace(check, print=replace(check.print, picture=picture))
    book = replace(BOOK, cloths=(cloth, *BOOK.cloths[1:]))
    for n in (1, 2, 3):
        save_step(folder, replace(book, title=f"step {n}"), words=f"to {n}")
    shutil.rmtree(folder.parent / "laid", ignore_errors=True)
    shutil.copytree(put(folder.parent / "laid", load(folder)) / "lays", folder / "lays")
    book = load(folder)
    plan = book.plans[0].name
    mark = compile_plan(book, book.plans[0]).mark
    set_ticks(folder, plan, mark, {"lay 1": True, "sew 1": True})
    kept = {kind.__name__: text for kind, text in BEFORE.items()}
    ways_file(folder, plan).write_text(kept["KeptWays"].replace("ff00", mark))
    yardage_file(folder).write_text(kept["Cells"])
    own = piece_to_svg(moved(book.bought.pieces[0], translation((1.0, 2.0)))).encode()
    put_in(folder, "coat.svg", own)
    text = "piece: Belt\n0, 0\nright 10 cm\nup 3 cm\nclose\n"
    typing.begin(folder, text)
    typing.keep(folder, text, book.bought.pieces[:1])
    place = put_in(folder, "a.jpg", jpeg()).stored.parent
    for file, kind in ((said_file, "Photos"), (found_file, "KeptFound"), (table_file, "FlatTable")):
        file(place).write_text(kept[kind])
    for name in ("flat.jpg", "whole.jpg"):
        (place / name).write_bytes(jpeg())
    refuse(folder, ["a|b"])
    photo = cloth_photos(folder, cloth.name).with_suffix(".jpg")
    photo.parent.mkdir(exist_ok=True)
    photo.write_bytes(jpeg())
    (folder / AWAY).parent.mkdir(exist_ok=True)
    (folder / AWAY).write_text(kept["PutAway"])
    (folder / LOCK).write_text('["pieces/front 9.svg", "00"]\n"pieces/back 9.svg"\n')
    return folder


@pytest.fixture(scope="module")
def whole(tmp_path_factory) -> Path:
    """The workbook before any damage."""
    return full(tmp_path_factory.mktemp("full") / "w")


SHOWS = {
    "inbox": ("add", "seams"),
    "lays": ("plans", "cut"),
    "ticks": ("cut", "sew"),
    "pictures": ("cloth", "pictures"),
    "photos": ("cloth/photo",),
    "pieces": ("pieces", "walk", "changes"),
    "workbook.toml": ("pieces", "plans", "cloth"),
}
"""Where what a file holds is shown; pieces for all others."""


def looks(folder: Path, file: str) -> list[str]:
    """The shelf, and pages that show what is in a file; every page when all mutants are made."""
    at = "/b/w"
    out = [p.address("w") for p in PAGES if "{book}" in p.path]
    waiting = sorted(p.name for p in inbox(folder).iterdir() if p.is_dir())
    photo = next(p.parent.name for p in inbox(folder).glob("*/flat.jpg"))
    out += [f"{at}/add?drawing={key}" for key in waiting]
    out += [f"{at}/add/{n}.jpg?drawing={photo}" for n in ("flat", "whole")]
    out += [f"{at}/cloth/photo?cloth=check", f"{at}/cloth/photo/shown.jpg?cloth=check"]
    out += [f"{at}/pictures/{p.name}" for p in (folder / "pictures").iterdir()]
    own = SHOWS.get(file.split("/", maxsplit=1)[0], ("pieces",))
    return ["/", *(p for p in out if EVERY or p.startswith(tuple(f"{at}/{o}" for o in own)))]


def wrong_in(mutant: Mutant, whole: Path, tmp: Path, capsys, *, printed: bool = True) -> list[str]:
    """Damage a copy of the workbook, look at it everywhere, go on with it; say what is wrong.

    printed: print it and write its guide, too.
    """
    folder, out = tmp / "w", tmp / "outside"
    shutil.copytree(whole, folder)
    out.mkdir()
    (out / "diary").write_text("hers")
    (out / "letters").mkdir()
    (out / "letters" / "one.svg").write_text("<svg/>")
    addresses = looks(folder, mutant.file)
    mutant.do(folder, out)
    before, around = plain(folder), plain(out)
    wrong: list[str] = []
    with watched(folder, tmp / "seen") as seen:
        wrong += _state_wrong(folder, whole, mutant)
        desk = desk_on(tmp)
        headers = {"origin": f"http://{PLACE}", "accept": "text/html"}
        for path in addresses:
            answer = desk.client.get(path, headers=headers)
            if answer.status_code not in (200, 400, 404, 409):
                wrong.append(f"{path}: {answer.status_code}")
            elif "html" in answer.headers["content-type"] and len(answer.text) < 200:
                wrong.append(f"{path}: says nothing")
        wrong += _commands_wrong(folder, capsys, printed=printed)
        edit = {"edit": "rename-workbook", "title": "after"}
        answer = desk.client.post("/b/w/edit", headers=headers, json=_sent(edit, desk, folder))
        done = answer.status_code == 200
        if not done and (answer.status_code >= 500 or len(answer.text) < 20):
            wrong.append(f"edit: {answer.status_code} {answer.text[:80]}")
        if done and load(folder).title != "after":
            wrong.append("edit: it is not saved")
        if done and run(["undo", str(folder)]) != 0:
            wrong.append("undo: not done")
        wrong += _lost(plain(whole), before, plain(folder))
        wrong += goes_on(folder, mutant)
        wrong += [f"outside: {s}" for s in dict.fromkeys(seen())]
    if plain(out) != around:
        wrong.append("outside: changed")
    return wrong


def _commands_wrong(folder: Path, capsys, *, printed: bool) -> list[str]:
    """Say which command ends otherwise than with what it is for, or a sentence."""
    wrong = []
    for name in ("show", "history", *(("print", "guide") if printed else ())):
        capsys.readouterr()
        code = run([name, str(folder), *(["--seconds", "1", "--quiet"] if name == "guide" else [])])
        said = capsys.readouterr()
        told = said.out + said.err
        if code not in (0, 1, 2) or not told.strip() or "Traceback" in told:
            wrong.append(f"{name}: {code} {told[-200:]}")
        if code == 0 and name in ("print", "guide") and not any((folder / name).iterdir()):
            wrong.append(f"{name}: wrote nothing")
    return wrong


def _state_wrong(folder: Path, whole: Path, mutant: Mutant) -> list[str]:
    """Say that what is beside the workbook keeps it closed, or makes it another one."""
    try:
        same = load(folder) == load(whole)
    except ClothwrightError:
        return [] if mutant.file.startswith(OF_THE_BOOK) or mutant.kind in NO_FILES else ["closed"]
    return [] if same or mutant.file == "workbook.toml" else ["another state"]


OF_THE_BOOK = ("workbook.toml", "pieces/")
NO_FILES = frozenset(k for k in DAMAGES if "link" in k or "pipe" in k)


def goes_on(folder: Path, mutant: Mutant) -> list[str]:
    """Write what is kept beside the workbook anew; what could not be used is not written over."""
    file, kind = folder / mutant.file, _kind(mutant.file)
    if kind is None or mutant.kind in NO_FILES or not file.is_file():
        return []
    data, lost = file.read_bytes(), isinstance(read_kept(file, kind, ROWS), Damaged)
    place = file.parent
    by_file = {
        "ticks": lambda: set_ticks(folder, *file.name.split(".")[:2], {"lay 2": True}),
        "lays": lambda: write_plain(file, kind, {"format": kind.FORMAT}),
        "chart.json": lambda: write_kept(file, Cells()),
        "refused-seams.json": lambda: refuse(folder, ["c|d"]),
        "sitting.json": lambda: answer(folder, place.name, lambda w: replace(w, scale="mm")),
        "photos.json": lambda: set_bar(folder, place.name, "201 mm"),
    }
    do = by_file.get(file.name) or by_file.get(mutant.file.split("/", maxsplit=1)[0])
    try:
        if do is not None:
            do()
    except ClothwrightError:
        return [] if file.read_bytes() == data else ["lost though refused"]
    aside = [v for k, v in plain(folder).items() if k.startswith("set-aside/")]
    return ["written over"] if lost and do is not None and data not in aside else []


def _kind(file: str) -> type[Format] | None:
    kinds = {kind.__name__: kind for kind in BEFORE}
    names = (("ways-to-fit", "KeptWays"), ("lays/", "KeptLay"), ("ticks/", "Ticks"))
    names += (
        ("chart", "Cells"),
        ("refused", "Refused"),
        ("sitting", "Sitting"),
        ("photos.json", "Photos"),
    )
    return next((kinds[kind] for part, kind in names if part in file), None)


def _sent(edit: dict[str, object], desk, folder: Path) -> dict[str, object]:
    try:
        at = desk.room.book("w").read().revision
    except Exception:  # noqa: BLE001 (the answer to the edit tells)
        at = 1
    return {"base": at, "edit": edit, "token": "once"}


def _lost(
    whole: Mapping[str, object], before: Mapping[str, object], after: Mapping[str, object]
) -> list[str]:
    """Say which files are no more what they were when the damage was looked at.

    One may be set aside, or be sound again (a copy, kept anew). The record and the workbook are
    written by the edit: of the record every line that was sound still stands.
    """
    aside = [v for k, v in after.items() if k.startswith("set-aside/")]
    out = []
    for name, data in before.items():
        now = after.get(name)
        if now in (data, whole.get(name)) or data in aside or name in ("workbook.toml", LOCK):
            continue
        if name == RECORD and isinstance(data, bytes) and isinstance(now, bytes):
            sound = set(data.splitlines()) & set(whole[name].splitlines())
            if sound <= set(now.splitlines()):
                continue
        out.append(f"lost: {name}")
    return out


def share(whole: Path) -> tuple[Mutant, ...]:
    """The mutants to be made: all, or those of the suite."""
    every = mutants(whole)
    return every if EVERY else every[:SHARE]


def test_damage_anywhere_is_a_whole_state_or_a_sentence(whole, tmp_path, capsys):
    """Every page, the shelf, `show`, the next edit and its undo; nothing else lost or touched."""
    faults, slow = [], []
    for n, mutant in enumerate(share(whole)):
        place = tmp_path / str(n)
        place.mkdir()
        began = time.monotonic()
        try:
            wrong = wrong_in(mutant, whole, place, capsys, printed=EVERY or n % PRINTED == 0)
        except Exception as error:
            if not EVERY:
                raise
            wrong = [f"raised {error!r:.300}"]
        slow.append((time.monotonic() - began, mutant))
        if wrong:
            faults.append((mutant, wrong))
            with capsys.disabled():
                print(mutant, json.dumps(wrong, indent=1))
        shutil.rmtree(place, ignore_errors=True)
    if EVERY:
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1e6
        with capsys.disabled():
            print(f"\n{len(slow)} mutants, peak {peak:.2f} GB, slowest:")
            for seconds, mutant in sorted(slow, reverse=True)[:5]:
                print(f"  {seconds:.1f} s  {mutant}")
    assert not faults, faults[:3]


def test_the_mutants_are_what_they_say(whole):
    """Every file of the workbook and every kind of damage is among them, the same each time."""
    every = mutants(whole)
    assert len(every) >= 400
    assert every == mutants(whole)
    kept = {k for k, v in plain(whole).items() if v is not None and not k.endswith(".gz")}
    assert kept <= {m.file for m in every}
    assert {m.kind for m in every} == set(DAMAGES)


def test_without_damage_nothing_is_wrong(whole, tmp_path, capsys, monkeypatch):
    """What is looked for is found in no sound workbook, and every page of it is shown."""
    monkeypatch.setattr(Mutant, "do", lambda *_: None)
    assert wrong_in(Mutant("chart.json", "none", 0), whole, tmp_path, capsys) == []


def test_a_touch_outside_is_seen(whole, tmp_path):
    """The watch sees what it is there for: a file written, read, renamed or removed outside."""
    (tmp_path / "w").mkdir()
    (tmp_path / "outside").mkdir()
    (tmp_path / "w" / "out").symlink_to(tmp_path / "outside")
    with watched(tmp_path / "w", tmp_path / "seen") as seen:
        (tmp_path / "w" / "out" / "a").write_text("1")
        (tmp_path / "w" / "out" / "a").read_text()
        (tmp_path / "w" / "b").write_text("1")
        (tmp_path / "w" / "b").rename(tmp_path / "c")
        (tmp_path / "c").unlink()
        assert [s.split()[0] for s in seen()] == [
            "open",
            "open",
            "open",
            "os.rename",
            "os.remove",
        ]


@pytest.mark.parametrize("threads", [1, 2], ids=["a copy", "begun anew"])
def test_a_touch_outside_is_seen_in_who_reads(tmp_path, monkeypatch, threads):
    """So it is in the process that reads files, and in the next one when that was ended."""
    monkeypatch.setattr(threading, "active_count", lambda: threads)
    monkeypatch.setattr(asking, "KNOWN", ())
    (tmp_path / "w").mkdir()
    with watched(tmp_path / "w", tmp_path / "seen") as seen:
        for name in ("a", "b"):
            asking.apart("it", Path.write_text, tmp_path / "w" / name, "1")
            asking.apart("it", Path.write_text, tmp_path / name, "1")
            asking._kept.pop().end()
        assert seen() == [f"open {str(tmp_path / name)!r}" for name in ("a", "b")]
