"""Pages, parts, edits, lengths and events, without a browser."""

from __future__ import annotations

import errno
import json
import re
from dataclasses import replace
from pathlib import Path
from urllib.parse import urljoin

import pytest

from clothwright.errors import ROOM
from clothwright.store import load, save
from clothwright.web.page import STAGES
from clothwright.web.pages import PAGES
from clothwright.web.rendering import TEMPLATES
from clothwright.workroom.editing.opened import folder_name
from tests.web.conftest import Desk
from tests.web.test_look import PAGES as LOOKED_AT
from tests.words.walker import links_of

BOOK = "/b/coat-and-skirt"
HTML = {"accept": "text/html"}
ROOT = Path(__file__).parents[2]


def edit(desk: Desk, what: dict, base: int | None = None, **more):
    """Send an edit as js/edit.js does."""
    at = desk.room.book("coat-and-skirt").read().revision if base is None else base
    body = json.dumps({"base": at, **more, **({"edit": what} if what else {})})
    headers = {"content-type": "application/json", "accept": "application/json"}
    return desk.post(f"{BOOK}/edit", content=body, headers=headers)


def test_what_the_disk_says_is_a_sentence_at_every_door(desk: Desk, monkeypatch) -> None:
    """Where no door of its own tells of it, too: what to try, and no fault of the program's."""

    def full(*_):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr("clothwright.web.pages.cloth_photo.throw_photo", full)
    headers = {"accept": "application/json"}
    answer = desk.post(f"{BOOK}/cloth/photo/throw?cloth=bordered+wool", headers=headers)
    assert answer.status_code == 400
    assert "No space left on device" in answer.json()["sentence"]
    assert ROOM in answer.json()["sentence"]


def test_every_page_is_listed_once_and_answers(desk: Desk) -> None:
    """Each page has its own name, template and question, and is shown with it as its heading."""
    assert len({p.name for p in PAGES}) == len({p.path for p in PAGES}) == len(PAGES)
    for page in PAGES:
        assert (TEMPLATES / f"{page.name}.html").is_file()
        answer = desk.client.get(page.address("coat-and-skirt"), headers=HTML)
        assert answer.status_code == 200
        assert f"<h1>{page.question}</h1>" in answer.text
        if page.stage is not None:
            assert page.question == page.stage.question


def test_every_module_of_the_pages_is_in_the_list() -> None:
    """No file in web/pages was forgotten in PAGES."""
    files = {f.stem for f in (ROOT / "src/clothwright/web/pages").glob("*.py")} - {"__init__"}
    listed = {p.file.render.__module__.rsplit(".", 1)[1] for p in PAGES}
    assert files == listed


def test_every_page_is_looked_at() -> None:
    """Each page has its line in the table of test_look.py, and no line is of a page that is not."""
    looked = {address.partition("?")[0] for address in LOOKED_AT.values()}
    assert looked == {p.address("coat-and-skirt") for p in PAGES}


def test_every_page_is_led_to(desk: Desk) -> None:
    """Links lead from the first page to every other; only a key from another device is typed."""
    todo, seen = ["/"], {"/"}
    while todo:
        path = todo.pop()
        text = desk.client.get(path, headers=HTML).text
        found = {urljoin(path, link).partition("?")[0] for link in links_of(text)}
        mine = {p.address("coat-and-skirt") for p in PAGES} & found - seen
        seen |= mine
        todo += mine
    assert {p.name for p in PAGES if p.address("coat-and-skirt") not in seen} == {"enter"}


def test_long_answers_are_packed_and_the_same(desk: Desk) -> None:
    """RFC 9110, 8.4.1.3: gzip for who accepts it, plain for who does not, the same bytes."""
    path = "/b/coat-and-skirt/pieces"
    packed = desk.client.get(path, headers={"accept-encoding": "gzip"})
    plain = desk.client.get(path, headers={"accept-encoding": "identity"})
    assert packed.headers["content-encoding"] == "gzip"
    assert "content-encoding" not in plain.headers
    assert int(packed.headers["content-length"]) < len(plain.content) / 3
    assert packed.headers["content-security-policy"] == plain.headers["content-security-policy"]
    assert packed.text == plain.text


def test_stages_of_pages_not_built_are_not_shown(desk: Desk) -> None:
    """The tape leads only to pages that are there."""
    text = desk.client.get(f"{BOOK}/pieces").text
    built = {p.name for p in PAGES if p.stage}
    for stage in STAGES:
        assert (f'href="{BOOK}/{stage.name}"' in text) is (stage.name in built)


def test_a_part_is_the_same_as_in_the_page(desk: Desk) -> None:
    """?part=NAME gives exactly the element that stands in the whole page."""
    whole = desk.client.get(f"{BOOK}/pieces?piece=coat+back&edge=side").text
    for name in ("piece", "table", "history"):
        part = desk.client.get(f"{BOOK}/pieces?piece=coat+back&edge=side&part={name}").text
        assert f'data-part="{name}"' in part
        assert part.strip() in whole
    assert desk.client.get(f"{BOOK}/pieces?part=nothing").status_code == 400


def test_what_the_page_says_of_an_edge(desk: Desk) -> None:
    """Name, sewn length, allowance and partner of the pressed edge; the numbers of `show`."""
    from clothwright.pattern.measure import net_length
    from clothwright.words import show_length
    from clothwright.workbook import replay

    book = load(desk.folder / "coat-and-skirt")
    back = replay(book).pattern.piece("coat back")
    part = desk.client.get(f"{BOOK}/pieces?piece=coat+back&edge=shoulder&part=piece").text
    ticket = part[part.index('class="ticket"') : part.index("<table")]
    assert show_length(net_length(back, "shoulder"), book.unit) in ticket
    assert show_length(back.edge("shoulder").allowance, book.unit) in ticket
    assert "coat front, shoulder" in ticket
    assert "this side is 1/4 in longer" in ticket


def test_in_a_run_of_edges_each_meets_its_own(desk: Desk) -> None:
    """A facing sewn on over two edges: each edge names the one it meets; two armholes one cap."""
    neck = desk.client.get(f"{BOOK}/pieces?piece=coat+front&edge=neck&part=piece").text
    ticket = neck[neck.index('class="ticket"') : neck.index("<table")]
    assert "front facing, neck" in ticket
    assert "front facing, front edge" not in ticket
    cap = desk.client.get(f"{BOOK}/pieces?piece=coat+sleeve&edge=cap&part=piece").text
    assert "coat front (armhole) and coat back (armhole)" in cap


def test_an_empty_workbook_says_what_to_do(desk: Desk) -> None:
    """From nothing: begin a workbook, see what to do next, no fault."""
    answer = desk.post("/start/new", data={"title": "Spring / coat", "unit": "in"})
    assert answer.status_code == 303
    assert (desk.folder / "Spring coat" / "workbook.toml").is_file()
    text = desk.client.get(answer.headers["location"], headers=HTML).text
    assert "No pieces yet" in text
    assert "/b/Spring%20coat/add" in text


def test_a_demo_is_one_press_away(desk: Desk) -> None:
    """A demo is made in the folder; pressed again it is made beside the first."""
    first = desk.post("/start/demo", data={"name": "remnant"}).headers["location"]
    second = desk.post("/start/demo", data={"name": "remnant"}).headers["location"]
    assert first == "/b/remnant/pieces"
    assert second != first
    assert desk.client.get(first).status_code == desk.client.get(second).status_code == 200


@pytest.mark.parametrize(
    ("path", "form", "words"),
    [
        ("/start/demo", {"name": "remnent"}, "Did you mean"),
        ("/start/new", {"title": "  "}, "needs a name"),
        ("/start/new", {"title": "../.."}, "no letters"),
        ("/start/new", {"title": "x", "unit": "ells"}, "ells"),
    ],
)
def test_bad_forms_are_answered_in_a_sentence(desk: Desk, path, form, words) -> None:
    """A page with the sentence, nothing made, nothing lost."""
    before = sorted(desk.folder.iterdir())
    answer = desk.post(path, data=form, headers=HTML)
    assert answer.status_code == 400
    assert words in answer.text
    assert "<h1>This did not work</h1>" in answer.text
    assert sorted(desk.folder.iterdir()) == before


def test_folder_names_stay_in_the_folder() -> None:
    """Whatever the title, the folder's name has no path in it."""
    for title in ("a/b", "..\\c", "C:coat", "  .hidden. ", "Mäntelchen № 2"):
        name = folder_name(title)
        assert not re.search(r"[/\\:]", name)
        assert not name.startswith(".")


def test_an_edit_is_saved_and_told(desk: Desk) -> None:
    """The revision moves on, the file has it, a listening page hears of it."""
    with desk.listen() as socket:
        hello = socket.receive_json()
        answer = edit(desk, {"edit": "rename-workbook", "title": "Autumn"})
        assert answer.status_code == 200
        event = socket.receive_json()
    assert hello["kind"] == "hello"
    assert event == {"kind": "event", "topic": "book", "revision": answer.json()["revision"]}
    assert answer.json()["revision"] != hello["revision"]
    assert load(desk.folder / "coat-and-skirt").title == "Autumn"


def test_an_edit_elsewhere_is_told(desk: Desk) -> None:
    """What the command line or a text editor saves reaches the open page."""
    folder = desk.folder / "coat-and-skirt"
    with desk.listen() as socket:
        before = socket.receive_json()["revision"]
        save(replace(load(folder), title="By hand"), folder)
        event = socket.receive_json()
    assert event["topic"] == "book"
    assert event["revision"] != before


def test_undo_and_redo(desk: Desk) -> None:
    """Both go along what was saved, and say what they did; with nothing to undo they say so."""
    assert edit(desk, {}, go="undo").json()["words"] == "There is nothing to undo."
    edit(desk, {"edit": "rename-workbook", "title": "Autumn"})
    part = desk.client.get(f"{BOOK}/pieces?part=history").text
    assert "Autumn" in part
    undone = edit(desk, {}, go="undo")
    assert undone.json()["words"].startswith("Undone: ")
    assert load(desk.folder / "coat-and-skirt").title == "Short coat and panel skirt"
    assert edit(desk, {}, go="redo").json()["words"].startswith("Done again: ")
    assert load(desk.folder / "coat-and-skirt").title == "Autumn"


def test_two_devices_lose_nothing(desk: Desk) -> None:
    """Edits of different things are put together; of the same thing the later one is refused."""
    base = desk.room.book("coat-and-skirt").read().revision
    assert edit(desk, {"edit": "rename-workbook", "title": "A"}, base).status_code == 200
    merged = edit(desk, {"edit": "set-notes", "notes": "toile first"}, base)
    assert merged.status_code == 200
    assert "put together" in merged.json()["words"]
    refused = edit(desk, {"edit": "rename-workbook", "title": "B"}, base)
    assert refused.status_code == 409
    assert "meanwhile" in refused.json()["sentence"]
    book = load(desk.folder / "coat-and-skirt")
    assert (book.title, book.notes) == ("A", "toile first")


@pytest.mark.parametrize(
    ("body", "words"),
    [
        (b"", "could not be read"),
        (b"[1]", "could not be read"),
        (b"{}", "Base"),
        (b'{"base": true, "edit": {}}', "Base"),
        (b'{"base": 1, "edit": {"edit": "burn"}}', "no edit"),
        (b'{"base": 1, "edit": {"edit": "set-notes"}}', "notes"),
        (b"\xff\xfe", "could not be read"),
    ],
)
def test_bad_edits_are_answered_in_a_sentence(desk: Desk, body: bytes, words: str) -> None:
    """Where, what was expected; nothing written."""
    before = (desk.folder / "coat-and-skirt" / "workbook.toml").read_bytes()
    headers = {"content-type": "application/json"}
    answer = desk.post(f"{BOOK}/edit", content=body, headers=headers)
    assert answer.status_code == 400
    assert words in answer.json()["sentence"]
    assert (desk.folder / "coat-and-skirt" / "workbook.toml").read_bytes() == before


@pytest.mark.parametrize(
    ("text", "mm"), [("5/8", 15.875), ("43,5 cm", 435.0), ('17 1/2"', 444.5), ("1 3/8 yd", 1257.3)]
)
def test_lengths_in_any_unit(desk: Desk, text: str, mm: float) -> None:
    """What is typed in a length field is read by the one reader there is; the book is in inches."""
    answer = desk.client.get(f"{BOOK}/length", params={"text": text})
    assert answer.json()["mm"] == pytest.approx(mm)


def test_a_bad_length_is_a_sentence(desk: Desk) -> None:
    """Not a length, or too short: said, and no error, for it may still be typed."""
    for text, least, words in (
        ("5/0", "", "divides by zero"),
        ("2 3/", "", "expected"),
        ("-1", "0", "at least"),
        ("five", "²", "expected"),
    ):
        bad = desk.client.get(f"{BOOK}/length", params={"text": text, "least": least})
        assert (bad.status_code, list(bad.json())) == (200, ["sentence"])
        assert words in bad.json()["sentence"]


def test_a_broken_workbook_is_named(desk: Desk) -> None:
    """A slip in an edit by hand: the start page still opens and says what and where."""
    file = desk.folder / "coat-and-skirt" / "workbook.toml"
    file.write_text(file.read_text().replace('unit = "in"', 'unit = "ells"'))
    text = desk.client.get("/", headers=HTML).text
    assert "cannot be opened" in text
    assert "ells" in text
    page = desk.client.get(f"{BOOK}/pieces", headers=HTML)
    assert page.status_code == 400
    assert "ells" in page.text


def test_unknown_places_are_pages_too(desk: Desk) -> None:
    """A wrong address says so in words, and leads back."""
    for path in ("/nowhere", "/b/nobody/pieces"):
        answer = desk.client.get(path, headers=HTML)
        assert answer.status_code == 404
        assert 'href="/"' in answer.text


def test_docs_name_every_page_and_core_module() -> None:
    """docs/web.md says how a page is added and names what there is."""
    text = (ROOT / "docs" / "web.md").read_text()
    for page in PAGES:
        assert f"`{page.path}`" in text
    for module in (ROOT / "src/clothwright/web/static/js").glob("*.js"):
        assert module.name in text


@pytest.mark.parametrize("sent", [b"", b"{", b"[1]", b"null", b"\xff"])
@pytest.mark.parametrize("door", ["edit", "cut/try", "sew/tick", "direct/try", "changes/preview"])
def test_what_no_script_of_ours_sends_is_refused_alike(desk: Desk, door: str, sent: bytes) -> None:
    """Whatever a script sends is a JSON object: anything else is told in one sentence."""
    answer = desk.post(f"{BOOK}/{door}", content=sent)
    assert answer.status_code == 400
    assert answer.json()["sentence"].startswith("What the page sent could not be read")
