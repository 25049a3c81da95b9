"""The yardage chart: every entry a sound lay, alike by any executor, kept, rounded, explained."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from clothwright.cli.app import run
from clothwright.cloth.cloth import Cloth
from clothwright.cloth.prints import Border, Print
from clothwright.errors import BadInput
from clothwright.lay.judge import judge
from clothwright.lay.solve import solve
from clothwright.rules.kinds.cut_from import CutFrom
from clothwright.rules.kinds.meets import Meets
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.kinds.pin import Pin
from clothwright.rules.plan import Plan
from clothwright.rules.weighing.yardage import (
    Cell,
    ChartSheet,
    chart_table,
    lay_cell,
    reasons,
    serves,
    shared,
)
from clothwright.store import save
from clothwright.units import Unit
from clothwright.words import step_of, to_buy_mm
from clothwright.workbook import Workbook
from clothwright.workroom.planning.chart import Chart, chart, chart_sheet, tasks_of
from tests.lay.panels import asked, bordered, skirt

PLANS = (
    Plan(name="free"),
    Plan(name="hem", rules=(OnBorder(piece="front", edge="hem", border="b"),)),
)


def book(**more) -> Workbook:
    said = {"bought": skirt(), "cloths": (bordered(),), "plans": PLANS, **more}
    return Workbook(title="t", unit=Unit.cm, **said)


def small(it=None, **more):
    said = {"widths": (900.0, 1400.0), "naps": (False,), "seconds": 20.0, "rounds": 3, **more}
    return tasks_of(it or book(), **said)


def test_an_entry_for_every_plan_nap_and_width(tmp_path):
    """Two plans, two naps, two widths: eight entries in that order, each a length to buy.

    But with a nap not where the hem's border turns one piece across the others.
    """
    cells = chart(small(naps=(False, True)), tmp_path, workers=0).cells
    assert [(c.plan, c.nap, c.width) for c in cells] == [
        (plan, nap, width)
        for plan in ("free", "hem")
        for nap in (False, True)
        for width in (900.0, 1400.0)
    ]
    goes = [c.plan == "free" or not c.nap for c in cells]
    assert [c.need is not None and c.need > 400 for c in cells] == goes
    assert {"point one way, for it has a nap" in c.why for c in cells if c.need is None} == {True}
    table = chart_table(cells, Unit.cm)
    assert [r[:3] for r in table.rows] == [
        (plan, "as changed", nap) for plan in ("free", "hem") for nap in ("without nap", "with nap")
    ]
    assert table.head[3:] == ("90 cm", "140 cm")


def test_what_is_bought_is_what_the_lay_uses_and_the_cut_end_before_washing():
    """Need = (used + end margin) / (1 - shrinkage): the cloth shrinks, and its margin with it."""
    cloth = replace(bordered(), margin_end=20.0, shrink_along=0.1, shrink_across=0.05)
    (task,) = small(book(cloths=(cloth,)), plans=("hem",), widths=(1000.0,))
    assert task.problem is not None
    assert task.problem.regions[0].width == pytest.approx(950.0)
    lay = solve(task.problem, seconds=20.0, rounds=3)
    assert judge(task.problem, lay) == ()
    assert lay_cell(task).need == pytest.approx((lay.used["c"] + 0.9 * 20.0) / 0.9)


def test_a_border_keeps_to_its_selvedge():
    """A border on the upper selvedge lies at the same distance from it on cloth of any width."""
    design = Print(borders=(Border(name="b", side="upper", base=40.0, height=100.0),))
    it = book(cloths=(replace(bordered(), print=design),))
    for task in small(it, plans=("hem",)):
        (line,) = asked(task.problem)
        assert line.at == pytest.approx(task.cell.width - 40.0)


def test_only_what_is_cut_from_the_material_counts():
    """Other cloths' pieces, and rules that tie to them, stay out; a facing cut from it comes in."""
    lining = Cloth(name="l", width=1400.0, material="lining")
    facing = replace(skirt().pieces[1], name="facing", cuts=(skirt().pieces[1].cuts[0],))
    facing = replace(facing, cuts=(replace(facing.cuts[0], material="lining"),))
    pattern = replace(skirt(), pieces=(*skirt().pieces, facing))
    tie = Meets(piece_a="front", point_a="lower right", piece_b="back", point_b="lower left")
    plans = (
        Plan(name="usual", rules=(tie,)),
        Plan(name="swap", rules=(CutFrom(piece="facing", material="lining", cloth="c"),)),
        Plan(
            name="away",
            rules=tuple(CutFrom(piece=p, material="shell", cloth="l") for p in ("front", "back")),
        ),
    )
    it = book(bought=pattern, cloths=(bordered(), lining), plans=plans)
    usual, swap, away = small(it, widths=(1400.0,))
    assert {s.piece for s in usual.problem.shapes} == {"front", "back"}
    assert len(usual.problem.rules) > 0
    assert {s.piece for s in swap.problem.shapes} == {"front", "back", "facing"}
    assert away.problem is None
    (cell,) = chart((away,), workers=0).cells
    assert "cuts nothing from shell" in cell.why
    (other,) = small(it, plans=("usual",), widths=(1400.0,), material="lining")
    assert {s.piece for s in other.problem.shapes} == {"facing"}


def test_what_belongs_to_the_cloth_in_hand_is_left_out():
    """Length, remnant outline, flaws and pins do not come along; the notes say so."""
    ring = ((0.0, 0.0), (700.0, 0.0), (700.0, 900.0), (0.0, 900.0))
    cloth = replace(bordered(), length=600.0, outline=ring)
    pin = Pin(piece="front", copy=1, cloth="c", x=500.0, y=300.0, turn_deg=0.0)
    it = book(cloths=(cloth,), plans=(Plan(name="pinned", rules=(pin,)),))
    (task,) = small(it, widths=(900.0,))
    assert task.problem.regions[0].length is None
    assert task.problem.regions[0].outline is None
    assert asked(task.problem) == []
    notes = " ".join(chart_sheet(it, Chart(cells=())).notes)
    assert "outline" in notes
    assert "Pins" in notes


def test_processes_lay_what_one_process_does(tmp_path):
    """Ended by rounds, the same seed gives the same chart in this process and in two others."""
    here = chart(small(), workers=0)
    there = chart(small(), workers=2)
    assert here == there
    assert all(c.need for c in here.cells)


def test_a_chart_goes_on_where_it_stopped(tmp_path):
    """Kept entries are not laid again; another search, another pattern, or a wish lays anew."""
    first = chart(small(), tmp_path, workers=0)
    told: list[Cell] = []
    assert chart(small(), tmp_path, workers=0, told=told.append) == first
    assert told == []
    chart(small(seed=5)[:1], tmp_path, workers=0, told=told.append)
    assert len(told) == 1
    chart(small(book(bought=skirt(flare=30.0)))[:1], tmp_path, workers=0, told=told.append)
    assert len(told) == 2
    chart(small()[:1], tmp_path, workers=0, resume=False, told=told.append)
    assert len(told) == 3


def test_a_renamed_plan_keeps_its_entries(tmp_path):
    """The fingerprint is of the lay, not of its name; the entry has the new name."""
    chart(small()[:1], tmp_path, workers=0)
    told: list[Cell] = []
    new = small(book(plans=(Plan(name="plain"),)))[:1]
    (cell,) = chart(new, tmp_path, workers=0, told=told.append).cells
    assert (cell.plan, told) == ("plain", [])


@pytest.mark.parametrize("text", ["", "[]", '{"cells": 3}', '{"cells": {"a": {"b": 1}}}'])
def test_a_broken_file_of_kept_entries_is_made_anew(tmp_path, text):
    """Whatever stands in it, the chart is laid and kept."""
    (tmp_path / "chart.json").write_text(text)
    chart(small()[:1], tmp_path, workers=0)
    assert len(json.loads((tmp_path / "chart.json").read_text())["cells"]) == 1


def test_ctrl_c_returns_what_is_done(tmp_path):
    """Interrupted after the second entry: two figures, the rest not laid yet, and kept as such."""

    def stop(_cell: Cell, told=[]) -> None:  # noqa: B006 (counts the calls)
        told.append(1)
        if len(told) == 2:
            raise KeyboardInterrupt

    made = chart(small(), tmp_path, workers=0, told=stop)
    assert made.stopped
    assert [c.need is not None for c in made.cells] == [True, True, False, False]
    assert [r[3:] for r in chart_table(made.cells, Unit.cm).rows][1] == ("not laid", "not laid")
    assert reasons(made.cells, Unit.cm) == ()
    again: list[Cell] = []
    assert not chart(small(), tmp_path, workers=0, told=again.append).stopped
    assert len(again) == 2


def test_a_piece_too_wide_says_so(tmp_path):
    """Cloth narrower than a piece: no figure, but the piece and the reason."""
    made = chart(small(widths=(120.0,), plans=("free",)), workers=0)
    assert made.cells[0].need is None
    assert chart_table(made.cells, Unit.cm).rows[0][3] == "does not go"
    (said,) = reasons(made.cells, Unit.cm)
    assert said.startswith("free, 12 cm, without nap: ")
    assert "front" in said


def test_a_plan_that_names_no_border_of_the_cloth_says_so():
    """The other plans are laid all the same."""
    plans = (PLANS[0], Plan(name="lost", rules=(OnBorder(piece="front", edge="hem", border="x"),)))
    cells = chart(small(book(plans=plans), widths=(1400.0,)), workers=0).cells
    assert cells[0].need
    assert 'no cloth has a border "x"' in cells[1].why


def test_a_lay_serves_every_easier_entry():
    """With nap serves without, narrow serves wide; never the other way, never another plan."""
    tasks = small(naps=(False, True), plans=("free",))
    without_narrow, without_wide, nap_narrow, nap_wide = tasks
    assert serves(nap_narrow, without_narrow)
    assert serves(nap_narrow, without_wide)
    assert serves(without_narrow, without_wide)
    assert not serves(without_narrow, nap_narrow)
    assert not serves(without_wide, without_narrow)
    assert not serves(without_wide, nap_wide)
    assert not serves(small(plans=("hem",))[0], without_narrow)
    needs = (1000.0, 900.0, 800.0, None)
    cells = [replace(t.cell, need=n) for t, n in zip(tasks, needs, strict=True)]
    got = shared(tasks, cells)
    assert [c.need for c in got] == [800.0, 800.0, 800.0, 800.0]
    assert [c.like for c in got] == [(900.0, True), (900.0, True), None, (900.0, True)]


def test_a_border_on_the_upper_selvedge_serves_no_other_width():
    """Its line moves with the width, so a narrow lay says nothing of a wide one."""
    design = Print(borders=(Border(name="b", side="upper", base=40.0, height=100.0),))
    narrow, wide = small(book(cloths=(replace(bordered(), print=design),)), plans=("hem",))
    assert not serves(narrow, wide)


@pytest.mark.parametrize(
    ("need", "unit", "step", "buy"),
    [
        (1001.0, Unit.cm, None, 1050.0),
        (1000.0, Unit.cm, None, 1000.0),
        (1001.0, Unit.cm, 100.0, 1100.0),
        (914.4, Unit.inch, None, 914.4),
        (915.0, Unit.inch, None, 1028.7),
        (915.0, Unit.inch, 228.6, 1143.0),
    ],
)
def test_rounded_up_to_what_shops_cut(need, unit, step, buy):
    """5 cm, or 1/8 yd, or a coarser step; never down (common practice)."""
    assert to_buy_mm(need, unit, step) == pytest.approx(buy)


@pytest.mark.parametrize(("unit", "step"), [(Unit.cm, 3.0), (Unit.inch, 50.0), (Unit.cm, 0.0)])
def test_a_step_that_cannot_be_shown_is_refused(unit, step):
    """A figure shown rounded to less than what is needed would be a short length of cloth."""
    with pytest.raises(BadInput, match="step"):
        step_of(unit, step)


def test_the_page_and_the_data_say_the_same():
    """Exact need and what to buy in the data; reasons and notes on the page."""
    cells = (
        Cell(plan="p", width=900.0, nap=False, need=1001.234),
        Cell(plan="p", width=1400.0, nap=False, why="front: too wide"),
    )
    sheet = ChartSheet(title="t", material="shell", unit=Unit.cm, cells=cells, notes=("A note.",))
    rows = sheet.data["cells"]
    assert [(r["need_mm"], r["buy_mm"], r["why"]) for r in rows] == [
        (1001.23, 1050.0, ""),
        (None, None, "front: too wide"),
    ]
    page = sheet.document
    assert page.blocks[0].rows == (("p", "as changed", "without nap", "1.05 m", "does not go"),)
    assert page.blocks[1].items == ("p, 140 cm, without nap: front: too wide", "A note.")


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"widths": (20.0,)}, "no width of cloth"),
        ({"material": "velvet"}, 'the material "velvet"'),
        ({"plans": ("hme",)}, "hem"),
    ],
)
def test_bad_wishes(more, said):
    """A sentence that names the option and what would be right."""
    with pytest.raises(BadInput, match=said):
        small(**more)


def test_the_command_writes_the_chart(tmp_path, capsys):
    """Table on the screen, the file as asked, entries kept in the workbook; a bad option is 2."""
    folder = tmp_path / "w"
    save(book(), folder)
    call = ["chart", str(folder), "--widths", "90 cm, 1.4 m", "--plan", "free", "--nap", "with"]
    quick = ["--seconds", "0.2", "--workers", "1"]
    assert run([*call, *quick, "--out", str(tmp_path / "c.md"), "--step", "10 cm"]) == 0
    assert "before washing" in capsys.readouterr().out
    assert "| free | as changed | with nap |" in (tmp_path / "c.md").read_text()
    assert (folder / "chart.json").exists()
    assert run([*call, *quick, "--out", str(tmp_path / "c.csv"), "--json", "-"]) == 0
    assert len(json.loads(capsys.readouterr().out)["cells"]) == 2
    assert b"plan,size,nap,90 cm,140 cm" in (tmp_path / "c.csv").read_bytes()
    assert run([*call, "--workers", "0"]) == 2
    assert run([*call, "--out", "c.pdf"]) == 2
    assert run([*call, "--step", "3 mm"]) == 2
