"""The lay engine: small problems with known answers, and what it does when things go wrong."""

from __future__ import annotations

import dataclasses
import itertools
import math
import os
import signal
from collections.abc import Callable

import pytest
import shapely
from shapely.geometry import Polygon

from clothwright.errors import BadInput, Mistakes
from clothwright.lay import solve as door
from clothwright.lay.judge import judge, residuals
from clothwright.lay.model import prepare
from clothwright.lay.packer import Job, Loose, Packer
from clothwright.lay.problem import (
    AtPhase,
    KeepClear,
    LayProblem,
    MirrorPhase,
    OnLine,
    Pinned,
    Region,
    Ring,
    Rule,
    SamePhase,
    SameTurn,
    Shape,
)
from clothwright.lay.result import Lay
from clothwright.lay.solve import solve
from clothwright.pattern.finding import Severity
from clothwright.units import Unit
from clothwright.words import say


def block(length: float, width: float) -> Ring:
    return ((0, 0), (length, 0), (length, width), (0, width))


def shape(name: str, ring: Ring, **more: object) -> Shape:
    base: dict[str, object] = {
        "id": name,
        "piece": name,
        "copy": 1,
        "outline": ring,
        "turns_deg": (0.0, 180.0),
        "points": {"o": ring[0], "b": ring[1]},
    }
    return Shape(**(base | more))  # type: ignore[arg-type]


def cloth(width: float = 400.0, length: float | None = None, **more: object) -> Region:
    return Region(name="shell", width=width, length=length, **more)  # type: ignore[arg-type]


def problem(
    *shapes: Shape, rules: tuple[Rule, ...] = (), gap: float = 0.0, region: Region | None = None
) -> LayProblem:
    return LayProblem(regions=(region or cloth(),), shapes=shapes, rules=rules, gap=gap)


def good(asked: LayProblem, rounds: int = 30, seed: int = 0) -> Lay:
    """The lay after some rounds, which the judge must pass."""
    lay = solve(asked, seconds=60.0, rounds=rounds, seed=seed)
    faults = [f for f in judge(asked, lay) if f.severity is Severity.FAULT]
    assert faults == []
    return lay


def test_four_blocks_fill_the_width() -> None:
    """Blocks that fill the width exactly are laid side by side without a gap."""
    lay = good(problem(*(shape(f"{k}", block(300, 100)) for k in range(4))))
    assert lay.used["shell"] == pytest.approx(300.0, abs=1e-3)
    assert lay.fits
    assert lay.short_by == 0.0


def test_gap_is_kept_between_pieces_and_not_at_the_selvedge() -> None:
    """The gap counts between pieces only."""
    asked = problem(*(shape(f"{k}", block(300, 197.5)) for k in range(2)), gap=5.0)
    assert good(asked).used["shell"] == pytest.approx(300.0, abs=1e-3)


def test_margins_are_kept() -> None:
    """A lay begins after the margin at the cut end and between the selvedge margins."""
    region = cloth(margin_start=20, margin_lower=15, margin_upper=15)
    lay = good(problem(shape("a", block(300, 370)), region=region))
    assert lay.used["shell"] == pytest.approx(320.0)
    assert min(y for _, y in lay.placements[0].outline) == pytest.approx(15.0)


def test_border_line_is_met() -> None:
    """A hem on the border lies on it exactly, the others round it."""
    rules = tuple(
        OnLine(id=f"r{k}", shape=f"{k}", points=("o", "b"), axis="across", at=33.0)
        for k in range(3)
    )
    asked = problem(
        *(shape(f"{k}", block(150, 120)) for k in range(3)),
        shape("free", block(100, 200)),
        rules=rules,
    )
    lay = good(asked)
    assert lay.used["shell"] == pytest.approx(450.0, abs=1e-3)
    assert max(residuals(asked, lay).values()) == pytest.approx(0.0, abs=1e-6)


def test_phases_chain() -> None:
    """Phases may chain from shape to shape and are all met."""
    names = ["a", "b", "c", "d"]
    chain = tuple(
        SamePhase(
            id=f"{p}{q}{axis}", shape_a=p, point_a="o", shape_b=q, point_b="b", axis=axis,
            repeat=70.0, shift=11.0,
        )
        for p, q in itertools.pairwise(names)
        for axis in ("along", "across")
    )  # fmt: skip
    fixed = AtPhase(id="f", shape="c", point="o", axis="across", phase=3.0, repeat=70.0)
    asked = problem(*(shape(n, block(90, 60)) for n in names), rules=(*chain, fixed))
    lay = good(asked)
    assert not lay.unplaced
    assert max(residuals(asked, lay).values()) < 0.1


def test_mirrored_pair_about_an_axis() -> None:
    """A pair lies mirrored about an axis of the figure, across and along."""
    rules = (
        MirrorPhase(
            id="m", shape_a="l", point_a="o", shape_b="r", point_b="o", axis="across",
            repeat=90.0, about=20.0,
        ),
        SamePhase(
            id="s", shape_a="l", point_a="o", shape_b="r", point_b="o", axis="along", repeat=65.0
        ),
    )  # fmt: skip
    ring: Ring = ((0, 0), (200, 0), (150, 90), (0, 120))
    asked = problem(shape("l", ring), shape("r", ring, flips=(True,)), rules=rules)
    lay = good(asked)
    assert not lay.unplaced


def test_figure_kept_clear() -> None:
    """A point kept clear of every copy of a figure."""
    rule = KeepClear(
        id="k", shape="a", point="o", radius=40.0, centre=(0.0, 0.0), repeat_along=100.0,
        repeat_across=100.0,
    )  # fmt: skip
    asked = problem(shape("a", block(150, 120)), rules=(rule,))
    assert residuals(asked, good(asked))["k"] < 1e-5


def test_all_tops_one_way_and_pins() -> None:
    """A one-way set follows the turn of a pinned member; the pin stays where it is."""
    pin = Pinned(id="p", shape="a", region="shell", x=500, y=200, turn_deg=180, flipped=False)
    one = SameTurn(id="s", shapes=("a", "b", "c"))
    asked = problem(*(shape(n, block(150, 120)) for n in "abc"), rules=(pin, one))
    lay = good(asked)
    assert {place.turn_deg for place in lay.placements} == {180.0}


def test_tilt_levels_a_hem_within_the_tolerance() -> None:
    """A hem a degree off square lies level when the grain may tilt that far, else has no place."""
    ring: Ring = ((0, 0), (200, 3.0), (200, 103), (0, 100))
    rule = OnLine(id="r", shape="a", points=("o", "b"), axis="across", at=50.0)
    lay = good(problem(shape("a", ring, tilt_deg=2.0), rules=(rule,)))
    assert not lay.unplaced
    stiff = good(problem(shape("a", ring), rules=(rule,)))
    assert "“r” lays on one line is 3 mm out of level" in say(stiff.unplaced["a"], Unit.mm)


def test_flaw_is_avoided() -> None:
    """No piece lies on a flaw; without it the lay is shorter."""
    flaw: Ring = ((100, 150), (140, 150), (140, 190), (100, 190))
    shapes = [shape(f"{k}", block(200, 130)) for k in range(3)]
    spoilt = good(problem(*shapes, region=cloth(keep_out=(flaw,))))
    clean = good(problem(*shapes))
    assert clean.used["shell"] == pytest.approx(200.0, abs=1e-3)
    assert spoilt.used["shell"] > 230.0


def test_remnant_bounds_the_lay() -> None:
    """A ragged remnant holds what it can; what has no room is named."""
    outline: Ring = ((0, 0), (600, 0), (350, 400), (0, 400))
    region = cloth(length=600.0, outline=outline)
    lay = good(problem(*(shape(f"{k}", block(300, 190)) for k in range(3)), region=region))
    assert len(lay.placements) == 2
    (reason,) = lay.unplaced.values()
    assert "no place is left" in reason
    assert lay.fits is False
    assert lay.short_by is None


def test_what_finds_no_place_at_first_is_laid_first() -> None:
    """On a remnant the only place of a long strip is not taken by the larger pieces before it."""
    outline: Ring = ((0, 0), (600, 0), (600, 200), (300, 200), (300, 400), (0, 400))
    region = cloth(length=600.0, outline=outline)
    strip = shape("strip", block(590, 60))
    asked = problem(shape("a", block(290, 190)), shape("b", block(290, 130)), strip, region=region)
    assert solve(asked, seconds=0.0, rounds=0).unplaced == {}


def test_short_by_tells_how_much() -> None:
    """On a fixed length that does not do, the lay says by how much."""
    asked = problem(*(shape(f"{k}", block(300, 250)) for k in range(3)), region=cloth(length=700.0))
    lay = good(asked)
    assert not lay.fits
    assert lay.short_by == pytest.approx(200.0, abs=1e-3)


def test_spill_over_to_the_next_cloth() -> None:
    """What has no room on the preferred cloth goes to the next one allowed."""
    regions = (cloth(length=310.0), dataclasses.replace(cloth(), name="other"))
    shapes = (
        *(shape(f"{k}", block(300, 250), regions=("shell", "other")) for k in range(2)),
        shape("only", block(50, 100), regions=("shell",)),
    )
    asked = LayProblem(regions=regions, shapes=shapes)
    lay = good(asked)
    assert lay.fits
    assert {place.region for place in lay.placements} == {"shell", "other"}


def test_too_wide_is_told_in_words() -> None:
    """A piece wider than the cloth is not laid, and the reason gives both widths."""
    lay = good(problem(shape("a", block(100, 500)), shape("b", block(100, 100))))
    assert [place.shape for place in lay.placements] == ["b"]
    said = say(lay.unplaced["a"], Unit.mm)
    assert "500 mm across" in said
    assert "400 mm" in said


def test_contradicting_rules_are_told() -> None:
    """Two lines for one point leave no place; the others are laid."""
    rules = (
        OnLine(id="1", shape="a", points=("o",), axis="across", at=50.0),
        OnLine(id="2", shape="a", points=("o",), axis="across", at=60.0),
    )
    lay = good(problem(shape("a", block(100, 100)), shape("b", block(100, 100)), rules=rules))
    assert "contradict" in say(lay.unplaced["a"], Unit.mm)


def test_nothing_to_lay() -> None:
    """An empty problem has an empty lay."""
    lay = good(problem())
    assert lay.placements == ()
    assert lay.fits


def test_a_lay_that_cannot_be_shorter_ends_the_search() -> None:
    """When the lay is as short as its longest piece, nothing is left to improve."""
    lay = solve(problem(shape("a", block(300, 100))), seconds=20.0)
    assert lay.stopped == "nothing to improve"


def test_same_seed_and_rounds_same_lay() -> None:
    """The same seed and round limit give the same lay, point for point."""
    asked = problem(*(shape(f"{k}", block(100 + 17 * k, 60 + 13 * k)) for k in range(8)))
    one, two = (solve(asked, seconds=60.0, rounds=40, seed=7) for _ in range(2))
    assert one.placements == two.placements
    assert one.rounds == two.rounds == 40
    assert one.stopped == "rounds"


def test_longer_search_is_never_worse_and_every_told_lay_is_sound() -> None:
    """Each lay told is sound and no longer than the one before."""
    asked = problem(*(shape(f"{k}", block(100 + 17 * k, 60 + 13 * k)) for k in range(9)), gap=3.0)
    told: list[Lay] = []
    lay = solve(asked, seconds=60.0, rounds=80, on_better=told.append)
    lengths = [each.used["shell"] for each in told]
    assert lengths == sorted(lengths, reverse=True)
    assert lay.used["shell"] == lengths[-1]
    for each in told:
        assert judge(asked, each) == ()


def test_stop_when_asked_keeps_the_best() -> None:
    """`should_stop` ends the search and the best lay so far comes back."""
    asked = problem(*(shape(f"{k}", block(100 + 17 * k, 60 + 13 * k)) for k in range(9)))
    told: list[Lay] = []
    lay = solve(asked, seconds=60.0, on_better=told.append, should_stop=lambda: bool(told))
    assert lay.stopped == "interrupted"
    assert judge(asked, lay) == ()


def test_a_lay_stopped_half_made_is_told_to_nobody() -> None:
    """Stopped when a part of the shapes lie: it says so of the others, and was no better lay."""
    asked = problem(*(shape(f"{k}", block(100 + 17 * k, 60 + 13 * k)) for k in range(9)))
    told: list[Lay] = []
    answers = iter([False] * 4)
    lay = solve(
        asked,
        seconds=60.0,
        rounds=2,
        on_better=told.append,
        should_stop=lambda: next(answers, True),
    )
    assert len(lay.placements) == 4
    assert not lay.whole
    assert not told


@pytest.mark.parametrize("bound", [False, True])
def test_keyboard_interrupt_keeps_the_best(bound: bool) -> None:
    """Ctrl-C in the middle of the search gives the best lay so far."""
    rules = (OnLine(id="r", shape="0", points=("o",), axis="across", at=20.0),) if bound else ()
    asked = problem(
        *(shape(f"{k}", block(100 + 17 * k, 60 + 13 * k)) for k in range(9)), rules=rules
    )

    def stop(_lay: Lay) -> None:
        raise KeyboardInterrupt

    lay = solve(asked, seconds=60.0, on_better=stop)
    assert lay.stopped == "interrupted"
    assert judge(asked, lay) == ()


@pytest.mark.parametrize("bound", [False, True])
def test_killed_child_loses_nothing(bound: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    """When the packer's process is killed, the search goes on with what it has."""
    started: list[Packer] = []

    class Watched(Packer):
        def __init__(self, job: Job) -> None:
            super().__init__(job)
            started.append(self)
            os.kill(self.pid, signal.SIGKILL)

    monkeypatch.setattr(door, "Packer", Watched)
    rules = (OnLine(id="r", shape="0", points=("o",), axis="across", at=20.0),) if bound else ()
    asked = problem(
        *(shape(f"{k}", block(100 + 17 * k, 60 + 13 * k)) for k in range(5)), rules=rules
    )
    lay = solve(asked, seconds=1.0)
    assert started
    assert judge(asked, lay) == ()


def test_panic_in_the_child_is_reported_and_harmless() -> None:
    """A shape that the packer cannot take ends the child, with its words kept."""
    tall = Loose(name="0", ring=_array(block(50, 500)), turns=(0.0,))
    packer = Packer(Job(height=400.0, gap=0.0, seconds=1, seed=0, workers=1, items=(tall,)))
    try:
        for thread in packer._threads:
            thread.join(timeout=20.0)
        assert packer.latest() is None
        assert packer.ended
        assert not packer.finished
        assert packer.trouble
    finally:
        packer.close()


def _array(ring: Ring) -> object:
    import numpy as np

    return np.asarray(ring, dtype=float)


@pytest.mark.parametrize("gap", [0.0, 6.0])
def test_packer_lays_are_true(gap: float) -> None:
    """The packer's lay, read back, has the right places: by shapely alone, mirrored ones too."""
    ring: Ring = ((500, 300), (700, 300), (640, 390), (500, 420))
    asked = problem(
        *(shape(f"a{k}", ring) for k in range(4)),
        *(shape(f"b{k}", ring, flips=(True,)) for k in range(4)),
        shape("tall", block(60, 400)),
        gap=gap,
    )
    told: list[Lay] = []
    lay = solve(asked, seconds=1.0, on_better=told.append)
    assert judge(asked, lay) == ()
    polys = [Polygon(place.outline) for place in lay.placements]
    assert shapely.union_all(polys).area == pytest.approx(sum(p.area for p in polys), abs=1.0)


BAD: tuple[tuple[str, Callable[[LayProblem], LayProblem], str], ...] = (
    ("no cloth", lambda p: dataclasses.replace(p, regions=()), "no cloth"),
    ("gap", lambda p: dataclasses.replace(p, gap=-1.0), "gap"),
    (
        "crossing",
        lambda p: dataclasses.replace(
            p, shapes=(shape("a", ((0, 0), (100, 100), (100, 0), (0, 100))),)
        ),
        "crosses",
    ),
    (
        "nothing",
        lambda p: dataclasses.replace(p, shapes=(shape("a", ((0, 0), (100, 0), (200, 0))),)),
        "crosses or touches itself",
    ),
    (
        "nan",
        lambda p: dataclasses.replace(
            p, shapes=(shape("a", ((0, 0), (float("nan"), 0), (20, 20))),)
        ),
        "no number",
    ),
    (
        "two corners",
        lambda p: dataclasses.replace(
            p, shapes=(dataclasses.replace(p.shapes[0], outline=((0, 0), (1, 1))),)
        ),
        "fewer than three",
    ),
    (
        "rule shape",
        lambda p: dataclasses.replace(
            p, rules=(AtPhase(id="r", shape="aa", point="o", axis="along", phase=0, repeat=9),)
        ),
        'Did you mean "a"',
    ),
    (
        "rule point",
        lambda p: dataclasses.replace(
            p, rules=(AtPhase(id="r", shape="a", point="x", axis="along", phase=0, repeat=9),)
        ),
        "no point",
    ),
    (
        "repeat",
        lambda p: dataclasses.replace(
            p, rules=(AtPhase(id="r", shape="a", point="o", axis="along", phase=0, repeat=0),)
        ),
        "repeat",
    ),
    (
        "axis",
        lambda p: dataclasses.replace(
            p, rules=(AtPhase(id="r", shape="a", point="o", axis="up", phase=0, repeat=9),)
        ),
        "axis",
    ),
    (
        "region",
        lambda p: dataclasses.replace(p, shapes=(shape("a", block(9, 9), regions=("silk",)),)),
        "silk",
    ),
    ("twice", lambda p: dataclasses.replace(p, shapes=p.shapes * 2), "more than once"),
    (
        "no turn",
        lambda p: dataclasses.replace(p, shapes=(shape("a", block(9, 9), turns_deg=()),)),
        "turn",
    ),
    (
        "margins",
        lambda p: dataclasses.replace(p, regions=(cloth(margin_lower=300, margin_upper=200),)),
        "margins",
    ),
    (
        "pin",
        lambda p: dataclasses.replace(
            p,
            rules=(
                Pinned(id="r", shape="a", region="shell", x=0, y=0, turn_deg=90, flipped=False),
            ),
        ),
        "pinned at 90",
    ),
)


@pytest.mark.parametrize("case", BAD, ids=lambda case: case[0])
def test_unsound_problems_get_a_sentence(
    case: tuple[str, Callable[[LayProblem], LayProblem], str],
) -> None:
    """Each mistake in a problem is told in a sentence before any search."""
    _, spoil, words = case
    with pytest.raises((BadInput, Mistakes)) as caught:
        solve(spoil(problem(shape("a", block(100, 100)))), seconds=1.0)
    assert words in str(caught.value)


def test_several_mistakes_are_told_at_once() -> None:
    """All mistakes come in one answer."""
    twisted = shape("a", ((0, 0), (100, 100), (100, 0), (0, 100)))
    asked = problem(twisted, dataclasses.replace(twisted, id="b"))
    with pytest.raises(Mistakes) as caught:
        solve(asked, seconds=1.0)
    assert len(caught.value.mistakes) == 2


def test_a_strip_too_slanted_for_the_cloth_lies_tilted() -> None:
    """A strip too wide at its exact turn fits when its grain may tilt by 1.5 degrees, else not."""
    ring: Ring = ((0, 0), (1000, 27.0), (1000, 397.0), (0, 370))
    narrow = cloth(width=372.0)
    stiff = good(problem(shape("a", ring), region=narrow))
    assert "397 mm across" in say(stiff.unplaced["a"], Unit.mm)
    lay = good(problem(shape("a", ring, tilt_deg=2.0), region=narrow))
    assert lay.fits
    assert min(abs(lay.placements[0].turn_deg - turn) for turn in (0.0, 180.0)) == pytest.approx(
        math.degrees(math.atan(0.027)), abs=0.05
    )


def test_a_strip_too_long_for_the_cloth_lies_tilted() -> None:
    """A fixed length that is overrun at the exact turn holds the strip when it may tilt."""
    ring = tuple((x - 0.027 * y, y + 0.027 * x) for x, y in block(1000, 200))
    short = cloth(length=1001.0)
    assert good(problem(shape("a", ring), region=short)).short_by == pytest.approx(4.4, abs=0.1)
    assert good(problem(shape("a", ring, tilt_deg=2.0), region=short)).fits


def test_tilts_shorten_a_lay_of_slanted_strips_and_go_no_further() -> None:
    """Strips of a slant lie shorter when they may tilt; one that gains nothing by it lies exact."""
    slanted = tuple((x - 0.027 * y, y + 0.027 * x) for x, y in block(500, 190))
    rings = {"a": slanted, "b": slanted, "small": block(60, 9)}
    stiff = problem(*(shape(n, r) for n, r in rings.items()))
    loose = problem(*(shape(n, r, tilt_deg=2.0) for n, r in rings.items()))
    lay = good(loose, rounds=60)
    assert lay.used["shell"] < good(stiff, rounds=60).used["shell"] - 1.0
    small = next(place for place in lay.placements if place.shape == "small")
    assert small.turn_deg in {0.0, 180.0}


def test_a_level_hem_is_not_tilted() -> None:
    """A shape whose level edge lies on a line keeps its exact turn, whatever tilt it may have."""
    rule = OnLine(id="r", shape="a", points=("o", "b"), axis="across", at=50.0)
    model = prepare(problem(shape("a", block(200, 100), tilt_deg=2.0), rules=(rule,)))
    assert not any(option.tilted for option in model.items[0].options)


def test_the_packer_leaves_out_what_the_rules_refuse():
    """Two shapes that can never lie one way: the other stays refused, with its reason, though the
    packer, which knows no rules, found a place for it."""
    small = (shape(f"c{k}", block(37 + k, 61 - k)) for k in range(12))
    asked = problem(
        shape("a", block(60, 40), turns_deg=(0.0,)),
        shape("b", block(70, 30), turns_deg=(90.0,)),
        *small,
        rules=(SameTurn(id="r", shapes=("b", "a")),),
        region=cloth(width=300.0, length=400.0),
    )
    lay = solve(asked, seconds=2.5)
    assert set(lay.unplaced) == {"b"}
    assert "the same way up" in lay.unplaced["b"]
    assert len(lay.placements) == 13
