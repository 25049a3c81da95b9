"""The cut page: a piece tried, pinned, the rest laid around it, files, the laying list ticked."""

from __future__ import annotations

import io
import re
import zipfile
from pathlib import Path
from typing import Any

import pypdfium2
import pytest

from clothwright.intake.dxf import read_dxf
from clothwright.lay.by_hand import LaidOut, lay_of, nearest, try_place, turned
from clothwright.lay.by_hand import Wanted as Put
from clothwright.lay.judge import judge, residuals
from clothwright.lay.order import laying_list
from clothwright.lay.problem import Pinned
from clothwright.lay.track import Track
from clothwright.rules.weighing.laid import Laid
from clothwright.store import load
from clothwright.units import Unit
from clothwright.workroom.editing.opened import empty_book
from clothwright.workroom.searching.laying import keep_better
from tests.few_rounds import one_core
from tests.web.conftest import PHONE, WAIT_S, Desk, PageOn, Shown, until, wait_for_a_lay
from tests.web.test_look import axe

CUT = "/b/coat-and-skirt/cut"
ON_BORDER = "skirt front"
FREE = "coat front 1"


@pytest.fixture
def kept(desk: Desk, laid: Laid) -> Desk:
    """The desk with that lay kept."""
    at = desk.folder / "coat-and-skirt"
    keep_better(at, load(at), laid)
    return desk


def _table(laid: Laid) -> LaidOut:
    places = {p.shape: p for p in laid.lay.placements}
    return LaidOut(problem=laid.compiled.problem, places=places)


def place_of(table: LaidOut, name: str, *, dx: float = 0.0, dy: float = 0.0) -> Put:
    """Return a piece put so many mm from where it lies."""
    p = table.places[name]
    return Put(shape=name, x=p.x + dx, y=p.y + dy, turn_deg=p.turn_deg, flipped=p.flipped)


def tried(desk: Desk, **sent: Any) -> dict[str, Any]:
    """Try a piece by the door."""
    answer = desk.post(f"{CUT}/try", json=sent, headers={"accept": "application/json"})
    return {"status": answer.status_code, **answer.json()}


def test_a_piece_on_the_border_keeps_its_line(laid: Laid) -> None:
    """Dragged off the border it comes back onto it; along the border it goes where it is put."""
    table = _table(laid)
    was = table.places[ON_BORDER]
    there = try_place(table, place_of(table, ON_BORDER, dx=-3.0, dy=60.0), Unit.mm).place
    assert there.y == pytest.approx(was.y, abs=0.1)
    moved = {**table.places, ON_BORDER: there}
    missed = residuals(table.problem, lay_of(table.problem, moved))
    mine = {r.id for r in table.rules[ON_BORDER]}
    assert mine
    assert max(missed[r] for r in mine) <= 0.1


@pytest.mark.parametrize(("dx", "dy"), [(0, 0), (40, 0), (0, -40), (-400, 0), (150, -300)])
def test_the_judge_of_the_whole_lay_says_the_same(laid: Laid, dx: float, dy: float) -> None:
    """Judged with its neighbours alone, a piece has the faults that it has in the whole lay."""
    table = _table(laid)
    for name in (FREE, ON_BORDER):
        answer = try_place(table, place_of(table, name, dx=dx, dy=dy), Unit.mm)
        places = {n: p for n, p in table.places.items() if n != name}
        whole = lay_of(table.problem, {**places, name: answer.place})
        told = [f for f in judge(table.problem, whole) if f.code in ("lay-overlap", "lay-gap")]
        assert len(answer.over) == len(told)
        off = [f for f in judge(table.problem, whole) if f.code == "lay-off-cloth"]
        assert any("off the usable" in f for f in answer.faults) or not off


def test_what_lies_under_it_gives_way_but_the_cloth_ends(kept: Desk, laid: Laid) -> None:
    """On another piece it may be pinned, off the cloth not; both are said in sentences."""
    table = _table(laid)
    p, q = table.places[FREE], table.places["coat back"]
    on = tried(kept, shape=FREE, x=q.x, y=q.y, turn=p.turn_deg, flipped=p.flipped)
    assert "coat back" in on["over"]
    assert any("overlap by" in words for words in on["faults"])
    off = tried(kept, shape=FREE, x=p.x, y=-900, turn=p.turn_deg, flipped=p.flipped)
    assert not off["may_pin"]
    assert any("off the usable cloth" in words for words in off["faults"])


def test_turned_about_its_middle_as_it_may(laid: Laid) -> None:
    """The next turn is an allowed one, and the middle of the piece stays where it was."""
    table = _table(laid)
    was, put = table.places[FREE], turned(table, FREE)
    there = try_place(table, put, Unit.mm).place
    assert there.turn_deg in table.shapes[FREE].turns_deg
    assert sum(x for x, _ in _box(there.outline)) == pytest.approx(
        sum(x for x, _ in _box(was.outline)), abs=1e-6
    )


def _box(ring: Any) -> tuple[tuple[float, float], tuple[float, float]]:
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    return (min(xs), min(ys)), (max(xs), max(ys))


def test_a_key_goes_to_the_next_repeat() -> None:
    """On a print that binds it every 60 mm, one push of 1 mm goes 60 mm; a drag to the nearest."""
    comb = Track(start=10.0, repeat=60.0)
    assert nearest(comb, 71.0, 70.0, 1.0) == pytest.approx(130.0)
    assert nearest(comb, 69.0, 70.0, -1.0) == pytest.approx(10.0)
    assert nearest(comb, 95.0, 0.0, 0.0) == pytest.approx(70.0)
    assert nearest(Track(value=5.0), 95.0, 5.0, 1.0) == 5.0
    assert nearest(Track(), 95.0, 5.0, 1.0) == 95.0


@pytest.mark.parametrize(
    "sent",
    [{"shape": "coat frnt 1"}, {"shape": FREE, "x": "left"}, {"shape": FREE, "x": 1e12}, ["x"]],
)
def test_bad_input_is_a_sentence(kept: Desk, sent: Any) -> None:
    """A piece that is not there, a place that is none: 400 with words, nothing moved."""
    answer = kept.post(f"{CUT}/try", json=sent, headers={"accept": "application/json"})
    assert answer.status_code == 400
    assert len(answer.json()["sentence"]) > 15


def test_not_laid_it_says_so(desk: Desk) -> None:
    """Before the plan is laid there is no lay to print, but the pieces can be."""
    assert "not laid yet" in desk.client.get(CUT).text
    assert desk.client.get(f"{CUT}/lay.pdf").status_code == 409
    assert tried(desk, shape=FREE)["status"] == 409


def test_pinned_then_the_rest_laid_around_it(kept: Desk, laid: Laid) -> None:
    """A pin makes the lay one not to cut by while it overlaps; laid anew it lies where pinned."""
    table = _table(laid)
    at = tried(kept, **_sent(table, FREE, 25.0))
    opened = kept.room.book("coat-and-skirt")
    edit = {
        "edit": "pin-shape",
        "plan": laid.plan.name,
        "piece": "coat front",
        "copy": 1,
        "cloth": "bordered wool",
        "x": at["x"],
        "y": at["y"],
        "turn_deg": at["turn"],
        "flipped": at["flipped"],
    }
    opened.edit(edit, base=opened.read().revision)
    text = kept.client.get(CUT).text
    assert f'data-x="{at["x"]:.4f}"' in text
    assert "Lay the rest around it" in text
    lays = kept.room.lays(opened)
    with one_core():
        assert kept.post(f"{CUT}/lay", data={"by": "script"}).status_code == 200
        until(lambda: (best := lays.state().laid) is not None and not best.faults)
    assert kept.post(f"{CUT}/stop", data={"by": "script"}).status_code == 200
    found = lays.wait(seconds=WAIT_S).laid
    assert found is not None
    assert found.faults == ()
    there = next(p for p in found.lay.placements if p.shape == FREE)
    assert (there.x, there.y) == pytest.approx((at["x"], at["y"]), abs=0.05)
    assert any(isinstance(r, Pinned) for r in found.compiled.problem.rules)


def _sent(table: LaidOut, name: str, dx: float) -> dict[str, Any]:
    p = table.places[name]
    return {"shape": name, "x": p.x + dx, "y": p.y, "turn": p.turn_deg, "flipped": p.flipped}


def test_ticks_stay_and_belong_to_the_lay(kept: Desk) -> None:
    """A tick is there after a reload; an unknown lay or an empty key is refused."""

    def ticked() -> list[str]:
        text = kept.client.get(f"{CUT}?part=list").text
        return re.findall(r'data-tick="([^"]+)"[^>]* checked', text)

    assert ticked() == []
    fields = {"key": "lay 2", "done": "yes", "by": "script"}
    assert kept.post(f"{CUT}/tick", data=fields).status_code == 200
    assert ticked() == ["lay 2"]
    kept.post(f"{CUT}/tick", data={**fields, "done": "no"})
    assert ticked() == []
    for bad in ({"key": ""}, {"lay": "../x"}):
        assert kept.post(f"{CUT}/tick", data={**fields, **bad}).status_code == 400


def test_what_is_ticked_as_cut_is_held_fast(kept: Desk, laid: Laid) -> None:
    """Ticked, it is drawn and said as cut, tried nowhere else, and cut again only when asked."""
    steps = laying_list(laid.compiled, laid.lay)
    number = next(s.number for s in steps if s.shape == FREE)
    fields = {"key": f"cut {number}", "done": "yes", "by": "script"}
    assert kept.post(f"{CUT}/tick", data=fields).status_code == 200
    text = kept.client.get(f"{CUT}?piece={FREE}").text
    (hold,) = re.findall(rf'<g class="hold[^>]*data-shape="{FREE}"[^>]*>', text)
    assert 'class="hold cut chosen"' in hold
    assert 'data-cut="yes"' in hold
    assert "It is cut, and stays where it lies." in text
    assert "data-nudge" not in text
    assert "It fits; nothing overlaps" in text
    moved = tried(kept, **_sent(_table(laid), FREE, 25.0))
    assert moved["status"] == 409
    assert moved["sentence"].startswith(f'"{FREE}" cannot be moved')
    assert kept.post(f"{CUT}/again?piece={FREE}", data={"by": "script"}).status_code == 200
    text = kept.client.get(f"{CUT}?piece={FREE}, cut before").text
    assert "Use what was cut after all" in text
    assert kept.post(f"{CUT}/again?piece=collar", data={"by": "script"}).status_code == 400


def test_files_to_take_away(kept: Desk) -> None:
    """The pieces on A4 and Letter pages at full size, the lay as PDF and SVG."""
    for paper, size in (("A4", (595, 842)), ("Letter", (612, 792))):
        answer = kept.client.get(f"{CUT}/pages.pdf?paper={paper}")
        document = pypdfium2.PdfDocument(io.BytesIO(answer.content))
        assert len(document) > 20
        assert tuple(round(v) for v in document[1].get_size()) in (size, size[::-1])
    assert kept.client.get(f"{CUT}/lay.pdf?cloth=lining").content.startswith(b"%PDF")
    assert b"<svg" in kept.client.get(f"{CUT}/lay.svg").content
    assert kept.client.get(f"{CUT}/pages.pdf?paper=A9").status_code == 400
    assert kept.client.get(f"{CUT}/lay.svg?cloth=silk").status_code == 400


def test_the_pieces_for_other_programs(kept: Desk) -> None:
    """Every kind the command line makes: one large sheet, both DXF kinds, an SVG of each piece."""
    shown = kept.client.get(CUT).text
    for name in ("pieces-sheet.pdf", "pieces-svg.zip", "pieces.dxf", "pieces-numbered.dxf"):
        assert f'/cut/{name}" download' in shown
        answer = kept.client.get(f"{CUT}/{name}")
        assert answer.status_code == 200
        assert f'filename="{name}"' in answer.headers["content-disposition"]
    names = {p.name for p in load(kept.folder / "coat-and-skirt").bought.pieces}
    drawings = zipfile.ZipFile(io.BytesIO(kept.client.get(f"{CUT}/pieces-svg.zip").content))
    assert set(drawings.namelist()) == {f"{n}.svg" for n in names}
    plain, numbered = (
        read_dxf(kept.client.get(f"{CUT}/{n}").content, n)
        for n in ("pieces.dxf", "pieces-numbered.dxf")
    )
    assert (plain.layers, numbered.layers) == ("", "numbered")
    assert {x.label for x in plain.lines} == names


# --- in the browser -------------------------------------------------------------------------------


def on_table(page_on: PageOn, laid: Laid, **more: Any) -> Shown:
    """Open the cut page on the laid demo."""
    it = page_on("coat-and-skirt", **more)
    at = it.folder / "coat-and-skirt"
    keep_better(at, load(at), laid)
    it.go(CUT)
    return it


def pinned(it: Shown) -> list[str]:
    """Return the pieces that are pinned in the workbook."""
    rules = load(it.folder / "coat-and-skirt").plan().rules
    return [f"{r.piece} {r.copy}" for r in rules if type(r).__name__ == "Pin"]


def middle(it: Shown, name: str) -> tuple[float, float]:
    """Return where a piece's middle is on the screen."""
    it.page.locator(f'.hold[data-shape="{name}"]').scroll_into_view_if_needed()
    box = it.page.locator(f'.hold[data-shape="{name}"]').bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def test_drag_lay_print_tick_reload(page_on: PageOn, laid: Laid, shots: Any) -> None:
    """The maker's evening: drag one piece, lay the rest, print, tick, reload: all is there."""
    it = on_table(page_on, laid)
    page = it.page
    x, y = middle(it, FREE)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 15, y + 40, steps=6)
    page.wait_for_function("() => document.querySelector('.hold.clash')")
    page.mouse.up()
    page.wait_for_selector(f'.hold.pinned[data-shape="{FREE}"]')
    assert pinned(it) == [FREE]
    at = page.get_attribute(f'.hold[data-shape="{FREE}"]', "data-x")
    with one_core():
        page.get_by_role("button", name="Lay the rest around it").click()
        page.get_by_role("button", name="Stop").wait_for()
        wait_for_a_lay(it)
    if page.get_by_role("button", name="Stop").is_visible():
        page.get_by_role("button", name="Stop").click()
    page.get_by_text("nothing overlaps, and every rule is kept").wait_for()
    assert page.get_attribute(f'.hold[data-shape="{FREE}"]', "data-x") == at
    with page.expect_download() as got:
        page.get_by_role("link", name="on Letter pages").click()
    assert Path(got.value.path()).read_bytes().startswith(b"%PDF")
    with page.expect_response(lambda r: r.url.endswith("/cut/tick")) as said:
        page.locator("#tick-lay-1").check()
    assert said.value.ok
    shots(it, "cut-pinned")
    it.go(CUT)
    assert page.locator("#tick-lay-1").is_checked()
    assert page.locator(f'.hold.pinned[data-shape="{FREE}"]').count() == 1
    assert axe(it) == []


def test_by_touch_on_a_phone(page_on: PageOn, laid: Laid) -> None:
    """A piece is chosen with a tap, moved with the large arrows, pinned, let go; nearer by +."""
    it = on_table(page_on, laid, size=PHONE)
    page = it.page
    before = page.locator("svg.lay").bounding_box()["width"]
    page.get_by_role("button", name="Closer").tap()
    assert page.locator("svg.lay").bounding_box()["width"] > before
    page.touchscreen.tap(*middle(it, "skirt front"))
    page.get_by_role("heading", name="skirt front").wait_for()
    assert page.get_by_text("Held on one line across the cloth").count() == 1
    page.get_by_role("button", name="Pin it here").tap()
    page.get_by_role("button", name="Let it go").wait_for()
    assert pinned(it) == ["skirt front 1"]
    page.get_by_role("button", name="Let it go").tap()
    page.get_by_role("button", name="Pin it here").wait_for()
    assert pinned(it) == []
    page.get_by_role("button", name="1/2 in up", exact=True).tap()
    page.get_by_text("It stays").wait_for()


def test_a_finger_drags_the_chosen_piece_and_pinches(page_on: PageOn, laid: Laid) -> None:
    """A chosen piece follows the finger and is pinned; another stays; two fingers look nearer."""
    it = on_table(page_on, laid, size=PHONE)
    page = it.page
    fingers = page.context.new_cdp_session(page)

    def touch(kind: str, *at: tuple[float, float]) -> None:
        points = [{"x": x, "y": y, "id": n} for n, (x, y) in enumerate(at)]
        fingers.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    def swipe(x: float, y: float) -> None:
        touch("touchStart", (x, y))
        for k in range(1, 7):
            touch("touchMove", (x + 4 * k, y + 2 * k))
            page.wait_for_timeout(30)
        touch("touchEnd")

    name = "coat back"
    swipe(*middle(it, name))
    page.wait_for_timeout(400)
    assert pinned(it) == []
    page.touchscreen.tap(*middle(it, name))
    page.wait_for_selector(f'.hold.chosen[data-shape="{name}"]')
    swipe(*middle(it, name))
    page.wait_for_selector(f'.hold.pinned[data-shape="{name}"]')
    assert pinned(it) == ["coat back 1"]
    before = page.locator("svg.lay").bounding_box()["width"]
    x, y = middle(it, "skirt front")
    touch("touchStart", (x - 20, y), (x + 20, y))
    touch("touchMove", (x - 40, y), (x + 40, y))
    touch("touchEnd")
    assert page.locator("svg.lay").bounding_box()["width"] > 1.5 * before


def test_by_keyboard_alone(page_on: PageOn, laid: Laid) -> None:
    """Arrow keys move the focused piece; when it rests it is pinned, with the focus still on it."""
    it = on_table(page_on, laid)
    page = it.page
    name = "back neck facing shell"
    hold = page.locator(f'.hold[data-shape="{name}"]')
    x = float(hold.get_attribute("data-x"))
    hold.focus()
    for key in ("Shift+ArrowRight", "ArrowRight", "ArrowRight"):
        page.keyboard.press(key)
    page.wait_for_selector(f'.hold.pinned[data-shape="{name}"]')
    pushed = 25.4 / 2 + 2 * 25.4 / 16  # half an inch, then twice a sixteenth: her unit, not mm
    assert float(hold.get_attribute("data-x")) == pytest.approx(x + pushed, abs=0.01)
    assert page.evaluate("document.activeElement.dataset.shape") == name
    page.keyboard.press("Enter")
    page.get_by_role("heading", name=name).wait_for()
    page.keyboard.press("Control+z")
    page.wait_for_selector(f'.hold:not(.pinned)[data-shape="{name}"]')
    assert pinned(it) == []


def test_her_paper_is_the_workbooks(desk: Desk) -> None:
    """The paper the page calls hers is the one that the print command and the guide take."""
    book = load(desk.folder / "coat-and-skirt")
    text = re.sub(r"<[^>]*>", "", desk.client.get(CUT).text)
    assert f"on {book.settings.paper} pages (PDF), your paper" in text
    assert text.count("your paper") == 1


@pytest.mark.parametrize(("unit", "paper"), [(Unit.inch, "Letter"), (Unit.cm, "A4")])
def test_a_new_workbook_has_the_paper_usual_with_its_unit(unit: Unit, paper: str) -> None:
    """Who measures in inches prints on Letter until she says otherwise (common practice)."""
    assert empty_book("mine", unit).settings.paper == paper
