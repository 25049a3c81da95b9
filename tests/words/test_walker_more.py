"""The walker where nothing stands still: photos being added, searches at work, wrong input."""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from pathlib import Path
from urllib.parse import urlencode

import pytest

from clothwright.cli.app import COMMANDS
from clothwright.store import create
from clothwright.units import Unit
from clothwright.workbook import Workbook
from clothwright.workroom.editing.opened import OpenBook
from clothwright.workroom.pieces import inbox
from clothwright.workroom.pieces.photo_sitting import view_of
from clothwright.workroom.searching.process import Kind, Task
from clothwright.workroom.searching.service import Search, Searches, Stage
from tests.photo.taken import jpegs, without_sheets
from tests.web.intake_demo import bare
from tests.words.shown import Commands, Desk, Shown, demo, desk_on, laid_once, put
from tests.words.test_walker import TYPED_NOTES, found, told
from tests.words.walker import text_of

UNITS = pytest.mark.parametrize("unit", [Unit.inch, Unit.cm], ids=["inch", "cm"])

# --- photos --------------------------------------------------------------------------------------


def photo_sitting(desk: Desk, book: Workbook) -> Iterator[Shown]:
    """Yield what is read while a piece comes from photos: each thing said of it, and the page."""
    at = "/b/mine/add"
    for name, data in (("front.jpg", jpegs()[0]), ("bare.jpg", without_sheets()), ("x.jpg", b"1")):
        yield Shown(f"photo {name}", desk.post(f"{at}/photo?name={name}", content=data), book)
    (one,) = inbox.waiting(desk.root / "mine")
    more = f"drawing={one.id}"
    yield Shown("one more", desk.post(f"{at}/photo?name=b.jpg&{more}", content=jpegs()[1]), book)
    yield _page(desk, f"{at}?{more}", book)
    bars = ("7 3/8 in", "7 27/32 in") if book.unit is Unit.inch else ("187 mm", "199.5 mm")
    said: list[dict[str, str]] = [{"what": "solve"}]
    said += [{"what": "bar", "bar": b} for b in ("", "wide", "20 mm", *reversed(bars))]
    for form in said:
        yield Shown(f"said {form}", _say(desk, f"{at}/outline?{more}", form), book)
    yield _page(desk, f"{at}?{more}", book)
    for form in _outline_words(desk, one.id):
        yield Shown(f"said {form}", _say(desk, f"{at}/outline?{more}", form), book)
        if "to" in form:
            yield Shown(f"tried {form}", desk.post(f"{at}/outline/try?{more}", data=form), book)
    yield _page(desk, f"{at}?{more}", book)


def _outline_words(desk: Desk, key: str) -> Iterator[dict[str, str]]:
    """Yield what can be said of the outline once it is there, rightly and wrongly."""
    (one,) = (w for w in inbox.waiting(desk.root / "mine") if w.id == key)
    path = view_of(one).found.outline.path
    here, next_ = (path.point_at(path.length * share) for share in (0.3, 0.6))
    at, to = f"{here.x:.3f},{here.y:.3f}", f"{here.x + 4:.3f},{here.y:.3f}"
    yield {"what": "move", "at": at, "to": to}
    yield {"what": "move", "at": at, "to": "-50,3"}
    yield {"what": "move", "at": "3,3", "to": "9,9"}
    yield {"what": "add", "at": f"{next_.x:.3f},{next_.y:.3f}"}
    yield {"what": "out", "at": at}
    yield {"what": "undo", "have": "3"}
    yield {"what": "redo", "have": "2"}
    yield {"what": "back", "at": at}
    yield {"what": "tick", "doubt": "1", "said": "right"}
    yield {"what": "tick", "doubt": "99", "said": "right"}
    yield {"what": "across", "doubt": "1"}
    yield {"what": "all-back"}
    yield {"what": "use", "photo": "9", "use": "no"}
    yield {"what": "use", "photo": "one", "use": "no"}
    yield {"what": "inside", "at": "largest"}
    yield {"what": "inside", "right": "wide", "up": "3"}
    yield {"what": "inside", "right": "300", "up": "300"}
    yield {"what": "nothing"}


def _say(desk: Desk, path: str, form: dict[str, str]) -> str:
    return desk.post(path, data={**form, "by": "script"})


def _page(desk: Desk, path: str, book: Workbook) -> Shown:
    return Shown(path, text_of(desk.client.get(path, headers={"accept": "text/html"}).text), book)


@UNITS
def test_photos_while_they_are_added(unit: Unit, tmp_path: Path) -> None:
    """Photos come, the bar is measured, doubts are looked at, points moved; much of it wrongly."""
    book = Workbook(title="Mine", unit=unit)
    create(tmp_path / "mine", book)
    desk = desk_on(tmp_path)
    with desk.client:
        shown = list(photo_sitting(desk, book))
    assert any("not looked at yet" in s.text for s in shown)
    assert any("far from" in s.text for s in shown)
    assert told(found(shown)) == ""


def test_a_photo_s_offence_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A doubt's place told in millimetres, in a workbook kept in inches."""
    book = Workbook(title="Mine", unit=Unit.inch)
    create(tmp_path / "mine", book)
    monkeypatch.setattr(
        "clothwright.workroom.pieces.photo_view.places_words",
        lambda places, _: f"{places[0].x:.1f} mm along",
    )
    desk = desk_on(tmp_path)
    with desk.client:
        shown = list(photo_sitting(desk, book))
    assert "foreign unit" in {o.kind for o in found(shown)}


# --- searches ------------------------------------------------------------------------------------

STAGES: tuple[Stage, ...] = ("waiting", "laying", "failed", "stale")


def at_work(desk: Desk, book: Workbook, monkeypatch: pytest.MonkeyPatch) -> Iterator[Shown]:
    """Yield the page of the plans, and what its line of progress says, while searches are at work.

    The lays found are real; only the processes are not there.
    """
    opened = desk.room.book("mine")
    lays, said, at = desk.room.lays(opened), list[str](), opened.read()
    laid = {p.name: laid_once(book, p.name) for p in book.plans}

    def of(_: Searches, folder: Path, kind: Kind, plan: str) -> Search:
        mark = "another" if stage == "stale" else lays.start_of(at, plan).mark
        task = Task(
            kind=kind, folder=folder, book=book, plan=plan, mark=mark, seconds=20.0, workers=1,
            seed=0,
        )  # fmt: skip
        one = Search(task=task, told=lambda *_: None, wanted=lambda: mark, stage=stage)
        if known:
            one.best = laid[plan].lay, laid[plan].folds
            one.tried = (f"A shallower hem: {laid[plan].fit_words(book.unit)}",)
        one.trouble = "The search ended by itself; lay it once more." if stage == "failed" else ""
        return one

    monkeypatch.setattr(Searches, "of", of)
    monkeypatch.setattr(OpenBook, "progress", lambda _, __, words, **___: said.append(words))
    for stage, known, plan in product(  # noqa: B007 (what is asked meanwhile looks at both)
        STAGES, (False, True), book.plans
    ):
        yield _page(desk, f"/b/mine/plans?{urlencode({'plan': plan.name})}", book)
        for kind in KINDS:
            lays._told(of(lays.searches, opened.folder, kind, plan.name), False)
    yield Shown("progress", "\n".join(said), book)


KINDS: tuple[Kind, ...] = ("lay", "ways")


@UNITS
def test_searches_at_work(unit: Unit, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Waiting, laying with and without a lay, failed, overtaken by an edit; ways being tried."""
    book = demo("checked-waistcoat", unit)
    put(tmp_path / "mine", book, laid=False)
    desk = desk_on(tmp_path)
    with desk.client:
        shown = list(at_work(desk, book, monkeypatch))
    text = "\n".join(s.text for s in shown)
    for words in ("waits for its turn", "Being laid. So far:", "cannot be laid", "tried, the last"):
        assert words in text
    assert told(found(shown)) == ""


def test_a_search_s_offence_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The line of progress with a length of its own making."""
    monkeypatch.setattr(
        "clothwright.workroom.searching.lays.best_words", lambda *_: "uses 1234.5 mm"
    )
    book = demo("checked-waistcoat", Unit.inch)
    put(tmp_path / "mine", book, laid=False)
    desk = desk_on(tmp_path)
    with desk.client:
        shown = list(at_work(desk, book, monkeypatch))
    assert "foreign unit" in {o.kind for o in found(shown)}


# --- wrong input ---------------------------------------------------------------------------------

WRONG = """\
demo coot
demo --seconds 0 --out {out}
demo --out {out} --colour
new {mine}
new {out}/a --unit ell
open {out}/elsewhere
open {mine} --port 99999
sheets --count 99 --out {out}
sheets --paper wide --out {out}
sheets --paper "1 x 2 in" --out {out}
add {mine} none.svg
add {mine} none.jpg
add {mine} {out}/odd.xyz
add {mine} {out}/odd.svg
add {mine} {out}/plain.svg
add {mine} {out}/plain.svg --scale wide
add {mine} {out}/plain.svg --scale mm
add {mine} {out}/plain.svg --scale mm --allowance wide
add {mine} {out}/plain.svg --scale mm --allowance drawn
add {mine} {out}/plain.svg --scale mm --allowance none --corners "at x"
add {mine} {out}/plain.svg --scale mm --allowance none --grain sideways
add {mine} {out}/plain.svg --scale mm --allowance none --cut "silk thrice"
add {mine} {out}/plain.svg --scale mm --allowance none --fold elsewhere
add {mine} {out}/plain.svg --scale mm --allowance none --edges a,b
add {mine} {out}/plain.svg --scale mm --allowance none --outline 9
add {mine} {out}/plain.svg --bar 1in
add {mine} {out}/front.jpg --allowance none --correct here --bar 7.8in
add {mine} {out}/front.jpg --allowance none --bar 1in
add {mine} {out}/front.jpg --allowance none --correct "1,2 by 3,4"
add {mine} {out}/notes.txt
seams {mine} --confirm 99
seams {mine} --confirm x
seams {mine} --ease 1
seams {mine} --ease 1=wide
seams {mine} --name 1
name {mine} front
name {mine} frnt --level "hip=hem start"
name {mine} front --level hip
name {mine} front --level "waist=hem start"
name {mine} front --level "hip=nowhere"
name {mine} front --point "x=hem start, wide"
name {mine} front --notch "x=side 99"
name {mine} front --corner "a.b=side"
together {mine} --confirm 99
together {mine} --add front frnt
together {mine} --add front back
together {mine} --add front back --kind linng
together {mine} --take-out front
seams {mine} --add front.side bak.side
seams {mine} --set sid --join gathered
seams {mine} --add front.side back.side --join knotted
change {mine} --edit 1 --alike
body {mine} bust
body {mine} bust=wide
body {mine} --set "bust=3 mm"
body {mine} --set bst=36in
body {mine} --how bst
body {mine} --chart {out}/none.txt
body {mine} --chart {out}/notes.txt
body {mine} --take
show {out}/elsewhere
show {mine} frnt
change {mine} crp
change {mine} crop
change {mine} crop length
change {mine} crop edges=frnt.hem "length=20 in"
change {mine} crop edges=front.hm "length=20 in"
change {mine} crop edges=front.hem length=wide piece=front
change {mine} crop edges=front.hem "length=500 in"
change {mine} lengthen pieces=front level=wast "by=1 in"
change {mine} lengthen pieces=front level=waist "by=-90 in"
change {mine} set-allowance edges=front.side "amount=-1 in"
change {mine} set-hem edges=front.hem "depth=90 in"
change {mine} rotate-dart dart=front.bust
change {mine} move-edge edge=front.side by=wide
change {mine} --edit 99 crop length=2in
change {mine} --off 99
change {mine} --move 9 1
change {mine} kinds crp
edit {mine} set-clth
edit {mine} set-cloth
edit {mine} set-cloth cloth=nobody values.width=wide
edit {mine} set-cloth cloth=check values.width=wide
edit {mine} set-cloth cloth=check values.widht=3in
edit {mine} set-notes notes
edit {mine} remove-rule plan=stripes rule=9
edit {mine} remove-rule plan=matched rule=99
edit {mine} add-rule plan=matched values.kind=on-bordr
edit {mine} add-rule plan=matched values.kind=on-border values.piece=frnt
edit {mine} set-seam seam=side values.ease=wide
edit {mine} set-body values.bust=wide
edit {mine} remove-piece piece=frnt
edit {mine} add-change kind=crop params.length=wide
edit {mine} rename-workbook title=
undo {mine} --steps x
redo {mine}
history {out}/elsewhere
recover {mine}
recover {out}/elsewhere
walk {out}/elsewhere
walk {mine} --mend 99
walk {mine} --mend one
walk {mine} --other
again {out}/elsewhere {mine}
again {mine} {mine}
again {mine} {mine} --name side
toile {mine} front.side --seen pinned --by "1 in"
toile {mine} front.side --seen pinned-out --by wide
toile {mine} front.side --seen pinned-out --by "1 in" --day Sunday
toile {mine} nobody --seen pinned-out --by "1 in"
toile {mine} front.nobody --seen pinned-out --by "1 in"
toile {mine} front.side --seen pinned-out --by "-1 in"
toile {mine} --take 99 1
toile {mine} --leave 99
toile {mine} --remove 99
walk {mine} --out {out}/paper --paper wide
lay {mine} --plan stripes
lay {mine} --plan stripes --look
lay {mine} --seconds=-1
lay {mine} --fold twice
lay {mine} --fold partial:90in
ways-to-fit {mine} --plan stripes
ways-to-fit {mine} --apply 9
ways-to-fit {mine} --least-hem wide
compare {mine} stripes
compare {mine} --seconds 0
choose {mine} --wish x
choose {mine} --wish "hem = front.hem on NONE above wide"
choose {mine} --wish "hem = frnt.hem"
chart {mine} --widths wide
chart {mine} --widths 1in
chart {mine} --plan stripes
chart {mine} --step 3mm
chart {mine} --material silk
chart {mine} --workers 0
chart {mine} --nap both --out {out}/chart.odd
print {mine} --piece nobody
print {mine} --as paper
print {mine} --paper B77
print {mine} --paper "900 x 900 in"
print {mine} --roll wide
print {mine} --material silk
guide {mine} --plan stripes
guide {mine} --paper B77
guide {out}/elsewhere
"""
"""A command with something wrong in it a line."""
TO_TYPE = re.compile(r"\b(?:one of|only) [\w-]+(?:, [\w-]+)+|Did you mean \"[\w-]+\"")
"""Names that a command takes, listed where another was typed."""
SPOILT = (
    ('width = "', 'width = "-'),
    ('width = "', 'width = "wide'),
    ("[[cloth]]", '[[cloth]]\nshrink_along = "90 %"'),
    ("[[plan]]", '[[change]]\nkind = "crop"\nedges = "front.hem"\nlength = "2 ells"\n[[plan]]'),
    ("[[plan]]", '[[change]]\nkind = "crop"\nlevel = "hip"\n[[plan]]'),
    ("[[plan]]", '[[change]]\nkind = "crap"\n[[plan]]'),
    ('a = ["front.', 'a = ["frnt.'),
    ('material = "shell"', "material = 3"),
)
"""What is written wrongly into a workbook's file by hand."""
OF_THE_FILE = ("-910 mm", "wide910 mm", "shrink_along", "2 ells")
"""What stands in that file so: it is said again, with its line."""


def wrong_input(say: Commands, mine: Path, out: Path) -> Iterator[Shown]:
    """Yield what every command says to something wrong."""
    out.mkdir()
    (out / "odd.xyz").write_text("1", "utf-8")
    (out / "odd.svg").write_text("<svg", "utf-8")
    (out / "plain.svg").write_bytes(bare(say.book.bought.pieces[0]))
    (out / "notes.txt").write_text(TYPED_NOTES, "utf-8")
    (out / "front.jpg").write_bytes(jpegs()[0])
    for line in WRONG.splitlines():
        yield hers(say, out, *shlex.split(line.format(mine=mine, out=out)))


def spoilt(say: Commands, mine: Path, out: Path) -> Iterator[Shown]:
    """Yield what is said of a workbook that was spoilt by hand; it is sound again afterwards."""
    file = mine / "workbook.toml"
    sound = file.read_text("utf-8")
    for old, new in SPOILT:
        assert old in sound
        file.write_text(sound.replace(old, new, 1), "utf-8")
        yield hers(say, out, "show", mine)
    file.write_text(sound, "utf-8")


def hers(say: Commands, out: Path, *words: object) -> Shown:
    """Return what a command says without what was typed, and without lists of what to type."""
    shown = say(*words)
    text = TO_TYPE.sub(" ", shown.text.replace(str(out.parent), ""))
    for typed in (*OF_THE_FILE, *(str(w).rpartition("=")[2] for w in words)):
        text = re.sub(rf"(?<![\w(-]){re.escape(typed)}(?![\w-])", " ", text)
    return replace(shown, text=text)


@UNITS
def test_every_command_given_wrong_input(
    unit: Unit, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Unknown piece, edge, rule, cloth, plan, paper; lengths that are none, too long, negative."""
    book = demo("checked-waistcoat", unit)
    mine = put(tmp_path / "mine", book, laid=False)
    tried = {line.split()[0] for line in WRONG.splitlines()}
    assert tried == {command.name for command in COMMANDS}
    say, out = Commands(capsys, book), tmp_path / "out"
    shown = [*wrong_input(say, mine, out), *spoilt(say, mine, out)]
    assert [s.place for s in shown if not s.text.strip()] == []
    assert told(found(shown)) == ""


def test_an_error_s_offence_is_found(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A change that is named by its id, where a parameter of it is wrong."""
    book = demo("checked-waistcoat", Unit.inch)
    mine = put(tmp_path / "mine", book, laid=False)
    monkeypatch.setattr("clothwright.store.book.format.change_title", lambda kind: kind)
    shown = list(spoilt(Commands(capsys, book), mine, tmp_path / "out"))
    assert "(crop)" in {o.words for o in found(shown)}
