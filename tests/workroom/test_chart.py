"""The yardage chart: the same by processes, survives a killed worker, goes on where it stopped."""

from __future__ import annotations

import os
import signal
from pathlib import Path

import pytest

from clothwright.cloth.plan import OnBorder, Plan
from clothwright.errors import BadInput, CannotDo
from clothwright.units import Unit
from clothwright.workbook import Workbook
from clothwright.workroom.chart import CHART_FILE, bought_length, chart, chart_table, tasks_of
from clothwright.workroom.spreading import spread
from tests.lay.panels import bordered, skirt

PLANS = (
    Plan(name="free"),
    Plan(name="hem", rules=(OnBorder(piece="front", edge="hem", border="b"),)),
)


def book() -> Workbook:
    return Workbook(title="t", unit=Unit.cm, bought=skirt(), cloths=(bordered(),), plans=PLANS)


def small(**more):
    return tasks_of(book(), widths=(900.0, 1400.0), naps=(False,), seconds=0.6, **more)


def test_a_cell_for_every_plan_and_width(tmp_path):
    """Two plans by two widths; wider cloth never needs more here; every need is a whole lay."""
    cells = chart(small(), tmp_path)
    assert [(c.plan, c.width) for c in cells] == [
        ("free", 900.0),
        ("free", 1400.0),
        ("hem", 900.0),
        ("hem", 1400.0),
    ]
    assert all(c.need is not None and c.need > 400 for c in cells)
    assert cells[1].need <= cells[0].need + 1e-6
    rows = chart_table(cells, Unit.cm).rows
    assert [r[0] for r in rows] == ["free", "hem"]


def test_a_chart_goes_on_where_it_stopped(tmp_path):
    """Kept cells are not laid again; a changed search is another task."""
    chart(small(), tmp_path)
    assert (tmp_path / CHART_FILE).exists()
    again: list[object] = []
    chart(small(), tmp_path, told=again.append)
    assert again == []
    chart(small(seed=5)[:1], tmp_path, told=again.append)
    assert len(again) == 1


def test_two_workers_lay_what_one_does(tmp_path):
    """By processes every cell is there, and sound."""
    cells = chart(small(), tmp_path, workers=2)
    assert [c.why for c in cells] == [""] * 4
    assert all(c.need for c in cells)


def test_a_piece_too_wide_says_so(tmp_path):
    """Cloth narrower than a piece: no figure, but the reason."""
    tasks = tasks_of(book(), widths=(120.0,), naps=(False,), plans=("free",), seconds=0.5)
    (cell,) = chart(tasks, tmp_path)
    assert cell.need is None
    assert cell.why
    assert "does not go" in chart_table((cell,), Unit.cm).rows[0]


def fall_once(task: tuple[str, int]) -> int:
    """Kill the worker the first time it sees task 3; later do the task."""
    folder, n = task
    mark = Path(folder) / "fallen"
    if n == 3 and not mark.exists():
        mark.touch()
        os.kill(os.getpid(), signal.SIGKILL)
    return n * n


def always_fall(_task: int) -> int:
    os.kill(os.getpid(), signal.SIGKILL)
    return 0


def test_a_killed_worker_loses_nothing(tmp_path):
    """Kill -9 in the middle: every result comes all the same."""
    got: dict[int, int] = {}
    tasks = [(str(tmp_path), n) for n in range(6)]
    spread(tasks, fall_once, workers=2, done=got.__setitem__)
    assert got == {n: n * n for n in range(6)}


def test_a_task_that_always_kills_its_worker_is_given_up():
    """Three tries, then a sentence."""
    with pytest.raises(CannotDo, match="given up"):
        spread([1], always_fall, workers=1, done=lambda _n, _r: None)


def test_no_scheduler_answers():
    """Without the extra, or without a scheduler, there is a sentence."""
    with pytest.raises(BadInput, match=r"--scheduler"):
        spread([1], fall_once, workers=1, scheduler="tcp://127.0.0.1:9", done=lambda _n, _r: None)


@pytest.mark.parametrize(
    ("need", "unit", "buy"),
    [
        (1001.0, Unit.cm, 1050.0),
        (1000.0, Unit.cm, 1000.0),
        (914.4, Unit.inch, 914.4),
        (915.0, Unit.inch, 1028.7),
    ],
)
def test_rounded_up_to_what_shops_cut(need, unit, buy):
    """5 cm, or 1/8 yd."""
    assert bought_length(need, unit) == pytest.approx(buy)
