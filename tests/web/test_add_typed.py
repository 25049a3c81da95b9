"""Measurements typed on the page: kept as they are typed, drawn, mended, added (demo data)."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest

from clothwright.intake.typed.examples import EXAMPLE, EXAMPLE_INCH
from clothwright.store import load
from clothwright.workroom.pieces import inbox, typing
from tests.web.conftest import PHONE, Desk, PageOn
from tests.web.test_add_in_browser import begin
from tests.web.test_look import axe

BOOK = "/b/Mine"
JSON = {"accept": "application/json"}


@pytest.fixture
def mine(desk: Desk) -> Desk:
    """A desk with an empty workbook of one's own."""
    desk.post("/start/new", data={"title": "Mine", "unit": "in"})
    return desk


def write(desk: Desk, text: str, key: str = "", base: str = ""):
    query = f"?drawing={key}" if key else ""
    form = {"text": text, "base": base, "by": "script"}
    return desk.post(f"{BOOK}/add/typed{query}", data=form, headers=JSON)


def page(desk: Desk, key: str) -> str:
    answer = desk.client.get(f"{BOOK}/add?drawing={key}", headers={"accept": "text/html"})
    assert answer.status_code == 200, answer.text
    return answer.text


def test_the_example_is_in_her_unit_and_whole(mine: Desk) -> None:
    """An inch workbook shows inches alone; each example is read without a slip."""
    text = mine.client.get(f"{BOOK}/add", headers={"accept": "text/html"}).text
    help_ = text[text.index('class="typed-help"') :]
    help_ = help_[: help_.index("</details>")]
    assert "check A to C 10" in help_
    assert " cm" not in help_
    assert " mm" not in help_
    for example in (EXAMPLE, EXAMPLE_INCH):
        key = write(mine, example).json()["drawing"]
        assert "All lines are read; 1 piece drawn." in page(mine, key)


def test_from_a_text_to_a_piece(mine: Desk) -> None:
    """A text is kept at once, shown with its lines and drawing, added as one edit; kept after."""
    told = write(mine, EXAMPLE).json()
    seen = page(mine, told["drawing"])
    assert "All lines are read; 1 piece drawn." in seen
    assert "1 piece can be added" in seen
    assert "A to C: 0.3 mm more than the 23.4 cm measured: agrees." in seen
    path = f"{BOOK}/add/confirm?drawing={told['drawing']}"
    done = mine.post(path, data={"by": "script"}, headers=JSON).json()
    assert done["words"] == "Added pocket"
    folder = mine.folder / "Mine"
    assert [p.name for p in load(folder).bought.pieces] == ["pocket"]
    assert inbox.waiting(folder) == ()
    (kept,) = typing.kept(folder, {"pocket": 1})
    assert kept.pieces == ("pocket",)
    assert "Correct pocket" in page(mine, "")


@pytest.mark.parametrize("nth", range(1, 7))
def test_what_is_taken_away_while_the_page_is_drawn(
    mine: Desk, monkeypatch: pytest.MonkeyPatch, nth: int
) -> None:
    """A text that another window throws away just before a reading of it is simply gone."""
    key = write(mine, EXAMPLE).json()["drawing"]
    read, readings = Path.read_bytes, 0

    def thrown_away(file: Path) -> bytes:
        nonlocal readings
        if file.name == "drawing.txt":
            readings += 1
            if readings == nth:
                inbox.throw_away(mine.folder / "Mine", key)
        return read(file)

    monkeypatch.setattr(Path, "read_bytes", thrown_away)
    answer = mine.client.get(f"{BOOK}/add?drawing={key}", headers={"accept": "text/html"})
    assert answer.status_code == 200, answer.text
    assert readings


def test_a_text_with_mistakes_is_kept_and_each_line_told(mine: Desk) -> None:
    """The text stands there, its wrong lines beside it; what can be drawn is drawn."""
    wrong = EXAMPLE.replace("C is 15 right of B", "C is 15 rihgt of B")
    key = write(mine, wrong).json()["drawing"]
    seen = page(mine, key)
    assert "15 rihgt of B" in seen
    assert 'data-line="6"' in seen
    assert "Did you mean" in seen
    assert "Throw the file away" in seen
    answer = mine.post(f"{BOOK}/add/confirm?drawing={key}", data={"by": "script"}, headers=JSON)
    assert answer.status_code == 409
    assert load(mine.folder / "Mine").bought.pieces == ()


def test_the_same_text_on_two_devices(mine: Desk) -> None:
    """A text changed meanwhile elsewhere is not overwritten; a sentence says so."""
    first = write(mine, EXAMPLE).json()
    key, base = first["drawing"], first["base"]
    second = write(mine, EXAMPLE + "# a remark\n", key, base)
    assert second.status_code == 200
    assert write(mine, EXAMPLE + "# another\n", key, base).status_code == 400
    assert "# a remark" in page(mine, key)
    assert write(mine, EXAMPLE, key, second.json()["base"]).status_code == 200


def test_a_file_of_notes_is_taken_in_with_its_mistakes(mine: Desk) -> None:
    """A .txt that comes in is typed measurements; with mistakes it is kept to be mended."""
    post = f"{BOOK}/add/file?name=pocket.txt"
    answer = mine.post(post, content=b"piece pocket\nA is somewhere\n", headers=JSON)
    assert answer.status_code == 200, answer.text[-900:]
    key = parse_qs(urlsplit(answer.json()["address"]).query)["drawing"][0]
    assert "A is somewhere" in page(mine, key)
    assert mine.post(post, content=b"\0\1\2", headers=JSON).status_code == 400
    assert len(inbox.waiting(mine.folder / "Mine")) == 1


def test_what_the_text_does_not_say_is_asked(mine: Desk) -> None:
    """Allowance, grain and cutting have their cards when no line says them, and only then."""
    silent = "\n".join(
        x for x in EXAMPLE.splitlines() if not x.startswith(("allowance", "grain", "cut"))
    )
    key = write(mine, silent).json()["drawing"]
    seen = page(mine, key)
    assert all(f'id="q-{q}"' in seen for q in ("allowance", "grain", "cut"))
    assert "1 question has to be answered first" in seen
    for form in (
        {"what": "allowance", "how": "none", "add": "1/2 in"},
        {"what": "grain", "grain": "angle", "angle": "90"},
        {"what": "cut", "material.0": "lining", "how.0": "pair", "count.0": "1"},
    ):
        path = f"{BOOK}/add/answer?drawing={key}&piece=0"
        assert mine.post(path, data={"by": "script", **form}, headers=JSON).status_code == 200
    assert "1 piece can be added" in page(mine, key)
    mine.post(f"{BOOK}/add/confirm?drawing={key}", data={"by": "script"}, headers=JSON)
    (piece,) = load(mine.folder / "Mine").bought.pieces
    assert piece.cuts[0].material == "lining"
    whole = page(mine, write(mine, EXAMPLE.replace("piece pocket", "piece flap")).json()["drawing"])
    assert not any(f'id="q-{q}"' in whole for q in ("allowance", "grain", "cut", "corners"))


def test_two_pieces_in_one_text(mine: Desk) -> None:
    """Each is drawn, each is asked about by itself, both are added as one edit."""
    two = EXAMPLE + "\n" + EXAMPLE.replace("piece pocket", "piece flap").replace("grain up\n", "")
    key = write(mine, two).json()["drawing"]
    seen = page(mine, key)
    assert "2 pieces drawn" in seen
    assert f"?drawing={key}&amp;piece=1" in seen
    assert "2 pieces can be added. 1 answer you have not pressed" in seen
    done = mine.post(f"{BOOK}/add/confirm?drawing={key}", data={"by": "script"}, headers=JSON)
    assert done.json()["words"] == "Added pocket and flap"
    mine.post(f"{BOOK}/edit", json={"base": done.json()["revision"], "go": "undo"})
    assert load(mine.folder / "Mine").bought.pieces == ()


def test_correcting_what_was_added(mine: Desk) -> None:
    """The kept text comes back, its piece to take the place of the one that is there."""
    key = write(mine, EXAMPLE).json()["drawing"]
    mine.post(f"{BOOK}/add/confirm?drawing={key}", data={"by": "script"}, headers=JSON)
    (kept,) = typing.kept(mine.folder / "Mine", {"pocket": 1})
    answer = mine.post(f"{BOOK}/add/typed/again", data={"kept": kept.key}, headers=JSON)
    key = parse_qs(urlsplit(answer.headers["location"]).query)["drawing"][0]
    (one,) = inbox.waiting(mine.folder / "Mine")
    text = typing.notes_in(one).replace("B is 18 down", "B is 20 down").replace("23,4", "25")
    assert write(mine, text, key, typing.digest(EXAMPLE)).status_code == 200
    done = mine.post(f"{BOOK}/add/confirm?drawing={key}", data={"by": "script"}, headers=JSON)
    assert done.status_code == 200, done.text
    assert load(mine.folder / "Mine").bought.piece("pocket").edge("front").length == 200
    nothing = mine.post(f"{BOOK}/add/typed/again", data={"kept": "../../x"}, headers=JSON)
    assert nothing.status_code == 400


def type_in(it, text: str) -> None:
    """Type a text into the area and wait until it is kept and drawn."""
    it.page.get_by_label("The measurements, line by line").fill(text)
    it.page.wait_for_function(
        "() => document.getElementById('typed-kept').textContent.startsWith('Saved')"
    )


def test_typed_in_a_browser(page_on: PageOn, shots, tmp_path: Path) -> None:
    """Typing draws after a pause; a slip leads to its line; a reload shows it all; it is added."""
    it = page_on()
    begin(it)
    shots(it, "typed-empty")
    type_in(it, EXAMPLE.replace("C is 15 right", "C is 51 right"))
    it.page.get_by_text("1 line to look at.").wait_for()
    slip = it.page.locator(".slips li").first
    assert "C (line 6" in slip.inner_text()
    assert "digits changed about" in slip.inner_text()
    shots(it, "typed-slip")
    it.page.reload()
    it.page.wait_for_selector("html[data-live]", state="attached")
    area = it.page.get_by_label("The measurements, line by line")
    assert "C is 51 right" in area.input_value()
    it.page.get_by_role("button", name="Line 14").press("Enter")
    picked = area.evaluate("e => e.value.slice(e.selectionStart, e.selectionEnd)")
    assert picked == "check A to C 23,4"
    type_in(it, EXAMPLE)
    it.page.get_by_text("All lines are read; 1 piece drawn.").wait_for()
    assert it.page.locator(".typed-drawn svg").count() == 1
    it.page.get_by_text("1 piece can be added").wait_for()
    shots(it, "typed-whole")
    it.page.get_by_role("button", name="Add this piece").click()
    it.page.get_by_text("in the workbook now").wait_for()
    assert [p.name for p in load(tmp_path / "Mine").bought.pieces] == ["pocket"]
    it.page.get_by_role("button", name="Correct pocket").click()
    it.page.get_by_text("All lines are read; 1 piece drawn.").wait_for()
    assert it.page.get_by_label("The measurements, line by line").input_value() == EXAMPLE


def test_the_example_by_keyboard(page_on: PageOn) -> None:
    """The example is put in by a button, "Draw it" keeps and draws at once."""
    it = page_on()
    begin(it)
    it.page.get_by_role("button", name="Put this example in").press("Enter")
    it.page.get_by_text("All lines are read; 1 piece drawn.").wait_for()
    area = it.page.get_by_label("The measurements, line by line")
    area.press("Control+End")
    it.page.keyboard.type("ege from A to B")
    it.page.get_by_role("button", name="Draw it").press("Enter")
    it.page.get_by_text("to look at.").wait_for()


def test_axe_with_typed_measurements(page_on: PageOn) -> None:
    """The text, its slips and its drawing: WCAG 2.2 AA as far as axe can tell."""
    it = page_on()
    begin(it)
    type_in(it, EXAMPLE + "check A to D 20 cm\n")
    it.page.get_by_text("1 line to look at.").wait_for()
    assert axe(it) == []
    type_in(it, EXAMPLE)
    it.page.get_by_text("All lines are read").wait_for()
    assert axe(it) == []


def test_typed_on_a_narrow_phone(page_on: PageOn) -> None:
    """At 360 px nothing has to be pushed sideways, and what is pressed is 44 px high."""
    it = page_on(size={**PHONE, "width": 360})
    begin(it)
    type_in(it, EXAMPLE + "check A to D 20 cm\n")
    it.page.get_by_text("1 line to look at.").wait_for()
    assert it.page.evaluate("document.documentElement.scrollWidth") <= 360
    small = it.page.evaluate(
        """() => [...document.querySelectorAll('main button, main textarea, main summary')]
            .filter(e => e.checkVisibility())
            .map(e => [e.textContent.slice(0, 20), e.getBoundingClientRect().height])
            .filter(([, h]) => h < 43.9)"""
    )
    assert small == []
