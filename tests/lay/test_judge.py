"""The judge of a lay: a clean lay passes, every planted fault is found."""

from __future__ import annotations

import dataclasses
import math

import pytest

from clothwright.lay.judge import judge, residuals
from clothwright.lay.problem import (
    AtPhase,
    KeepClear,
    KeepOff,
    LayProblem,
    MirrorPhase,
    OnLine,
    Pinned,
    Region,
    Ring,
    SamePhase,
    SameTurn,
    Shape,
    Upright,
)
from clothwright.lay.result import Lay, Placement
from clothwright.pattern.finding import Severity
from clothwright.units import Unit
from clothwright.words import say

# A panel 200 along the grain and 100 across, its origin in the middle, and a little notch of its
# own on one side so that mirroring it shows.
PANEL: Ring = ((-100, -50), (100, -50), (100, 50), (0, 50), (-20, 30), (-40, 50), (-100, 50))
POINTS = {"hem": (-90.0, 0.0), "hem 2": (-90.0, 20.0), "centre": (0.0, 0.0)}


def shape(name: str, **more: object) -> Shape:
    base: dict[str, object] = {
        "id": name,
        "piece": name,
        "copy": 1,
        "outline": PANEL,
        "turns_deg": (0.0, 180.0),
        "points": POINTS,
    }
    return Shape(**(base | more))  # type: ignore[arg-type]


def lie(problem: LayProblem, name: str, x: float, y: float, **more: object) -> Placement:
    """A placement moved by hand: mirror across the grain, turn, shift."""
    turn = float(more.get("turn_deg", 0.0))  # type: ignore[arg-type]
    flipped = bool(more.get("flipped", False))
    ring = next(s.outline for s in problem.shapes if s.id == name)
    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    sign = -1.0 if flipped else 1.0
    outline = tuple(
        (cos * px - sin * py * sign + x, sin * px + cos * py * sign + y) for px, py in ring
    )
    return Placement(
        shape=name,
        region=str(more.get("region", "shell")),
        turn_deg=turn,
        flipped=flipped,
        x=x,
        y=y,
        outline=outline,
    )


def lay_of(problem: LayProblem, *places: Placement) -> Lay:
    used: dict[str, float] = {}
    for place in places:
        end = max(x for x, _ in place.outline)
        used[place.region] = max(used.get(place.region, 0.0), end)
    return Lay(placements=places, used=used, fits=True)


SHELL = Region(name="shell", width=400.0, length=1000.0, margin_lower=10, margin_upper=10)


def three(**more: object) -> LayProblem:
    base: dict[str, object] = {
        "regions": (SHELL,),
        "shapes": (shape("a"), shape("b"), shape("c")),
        "gap": 5.0,
    }
    return LayProblem(**(base | more))  # type: ignore[arg-type]


def clean(problem: LayProblem) -> list[Placement]:
    return [
        lie(problem, "a", 100, 60),
        lie(problem, "b", 100, 165),
        lie(problem, "c", 305, 60, turn_deg=180),
    ]


def codes(problem: LayProblem, lay: Lay) -> set[str]:
    return {finding.code for finding in judge(problem, lay)}


def test_clean_lay_has_no_findings() -> None:
    """A lay that keeps every promise gets no word from the judge."""
    problem = three()
    assert judge(problem, lay_of(problem, *clean(problem))) == ()


@pytest.mark.parametrize("position", [0, 1, 2])
def test_overlap_of_two_tenths_is_found_at_every_position(position: int) -> None:
    """0.2 mm of overlap is found whichever place in the list the piece has, the last too."""
    problem = three(gap=0.0)
    fixed = lie(problem, "a", 100, 60)
    near = lie(problem, "b", 100, 159.8)
    far = lie(problem, "c", 500, 200)
    order = [far, fixed, near]
    order = order[position:] + order[:position]
    found = judge(problem, lay_of(problem, *order))
    assert [f.code for f in found] == ["lay-overlap"]
    assert found[0].measured == pytest.approx(0.2, abs=0.02)


@pytest.mark.parametrize("pair", [("a", "b"), ("a", "c"), ("b", "c")])
def test_overlap_of_each_pair_is_found(pair: tuple[str, str]) -> None:
    """Every pair is looked at, not only neighbours in the list."""
    problem = three(gap=0.0)
    spots = {"a": (100.0, 60.0), "b": (350.0, 60.0), "c": (600.0, 60.0)}
    spots[pair[1]] = (spots[pair[0]][0] + 199.8, 60.0)
    lay = lay_of(problem, *(lie(problem, name, x, y) for name, (x, y) in spots.items()))
    found = [f for f in judge(problem, lay) if f.code == "lay-overlap"]
    assert len(found) >= 1


def test_touching_is_not_overlap() -> None:
    """Without a gap two pieces may share a cutting line."""
    problem = three(gap=0.0)
    places = [lie(problem, "a", 100, 60), lie(problem, "b", 100, 160), lie(problem, "c", 300, 60)]
    assert judge(problem, lay_of(problem, *places)) == ()


def test_piece_inside_another_is_overlap() -> None:
    """A small piece wholly inside a large one overlaps it."""
    small = shape("b", outline=((-5, -5), (5, -5), (5, 5), (-5, 5)))
    problem = three(shapes=(shape("a"), small), gap=0.0)
    lay = lay_of(problem, lie(problem, "a", 100, 60), lie(problem, "b", 100, 60))
    assert codes(problem, lay) == {"lay-overlap"}


def test_gap_too_small() -> None:
    """Pieces nearer than the gap are found, the exact gap is not."""
    problem = three()
    places = clean(problem)
    places[1] = lie(problem, "b", 100, 164.9)
    found = judge(problem, lay_of(problem, *places))
    assert [f.code for f in found] == ["lay-gap"]
    assert found[0].measured == pytest.approx(4.9)


@pytest.mark.parametrize("shift", [(-0.1, 0.0), (0.0, -0.1)])
def test_off_the_margins(shift: tuple[float, float]) -> None:
    """A tenth of a millimetre past the cut end or into the selvedge is off the cloth."""
    problem = three()
    places = clean(problem)
    places[0] = lie(problem, "a", 100 + shift[0], 60 + shift[1])
    assert codes(problem, lay_of(problem, *places)) == {"lay-off-cloth"}


def test_off_the_upper_selvedge() -> None:
    """The upper selvedge's margin counts too."""
    problem = three()
    places = [*clean(problem)[:2], lie(problem, "c", 305, 340.2)]
    assert codes(problem, lay_of(problem, *places)) == {"lay-off-cloth"}


def test_overrun_must_be_told() -> None:
    """A lay may run past a fixed length only when it says so; then it is information."""
    problem = three()
    places = [*clean(problem)[:2], lie(problem, "c", 950, 60)]
    lay = lay_of(problem, *places)
    assert codes(problem, lay) == {"lay-off-cloth", "lay-fits", "lay-short-by"}
    told = dataclasses.replace(lay, fits=False, short_by=50.0)
    assert judge(problem, told) == ()


def test_remnant_outline_and_hole() -> None:
    """A remnant's ragged outline and its hole are respected."""
    ragged = Region(
        name="shell",
        width=400.0,
        length=1000.0,
        outline=((0, 0), (1000, 0), (700, 400), (0, 400)),
        keep_out=(((300, 300), (340, 300), (340, 340), (300, 340)),),
    )
    problem = three(regions=(ragged,))
    assert judge(problem, lay_of(problem, *clean(problem))) == ()
    off = [*clean(problem)[:2], lie(problem, "c", 800, 250)]
    assert codes(problem, lay_of(problem, *off)) == {"lay-off-cloth"}
    on = [*clean(problem)[:2], lie(problem, "c", 320, 345)]
    assert codes(problem, lay_of(problem, *on)) == {"lay-keep-out"}


def test_turn_not_allowed_and_tilt() -> None:
    """A turn beyond the tilt is a fault; within the tilt it is not."""
    problem = three(shapes=(shape("a"), shape("b"), shape("c", tilt_deg=2.0)))
    places = [*clean(problem)[:2], lie(problem, "c", 320, 70, turn_deg=182)]
    assert judge(problem, lay_of(problem, *places)) == ()
    places[2] = lie(problem, "c", 320, 70, turn_deg=182.1)
    assert codes(problem, lay_of(problem, *places)) == {"lay-turn"}


def test_flip_not_allowed() -> None:
    """A piece that must lie right side up may not be turned over."""
    problem = three()
    places = clean(problem)
    places[2] = lie(problem, "c", 305, 60, flipped=True)
    assert codes(problem, lay_of(problem, *places)) == {"lay-flip"}


def test_wrong_region() -> None:
    """A piece on a cloth it may not be cut from is found, and so is an unknown cloth."""
    lining = Region(name="lining", width=400, length=None)
    problem = three(regions=(SHELL, lining), shapes=(shape("a", regions=("shell",)),))
    lay = lay_of(problem, lie(problem, "a", 100, 60, region="lining"))
    assert codes(problem, lay) == {"lay-region"}
    lay = dataclasses.replace(lay, placements=(lie(problem, "a", 100, 60, region="silk"),), used={})
    assert codes(problem, lay) == {"lay-region"}


def test_missing_extra_duplicate() -> None:
    """Each copy is laid exactly once, and nothing else is."""
    problem = three()
    places = clean(problem)
    assert "lay-missing" in codes(problem, lay_of(problem, *places[:2]))
    stray = dataclasses.replace(places[2], shape="d")
    assert codes(problem, lay_of(problem, *places, stray)) >= {"lay-extra"}
    again = lie(problem, "a", 700, 200)
    assert codes(problem, lay_of(problem, *places, again)) >= {"lay-duplicate"}


def test_unplaced_is_a_notice_but_cannot_fit() -> None:
    """A shape that the lay calls unplaced is told as a notice; such a lay does not fit."""
    problem = three()
    lay = lay_of(problem, *clean(problem)[:2])
    lay = dataclasses.replace(lay, unplaced={"c": "too wide"}, fits=False, short_by=None)
    found = judge(problem, lay)
    assert [(f.code, f.severity) for f in found] == [("lay-unplaced", Severity.NOTICE)]
    assert "lay-fits" in codes(problem, dataclasses.replace(lay, fits=True))


@pytest.mark.parametrize(
    "change",
    [
        {"x": 305.2},
        {"turn_deg": 0.0},
        {"outline": PANEL},
        {"outline": ((math.nan, 0.0),) * 7},
    ],
)
def test_outline_not_its_own(change: dict[str, object]) -> None:
    """The stated outline must be the shape's own under the stated move."""
    problem = three()
    places = clean(problem)
    lay = lay_of(problem, *places)
    places[2] = dataclasses.replace(places[2], **change)
    lay = dataclasses.replace(lay, placements=tuple(places))
    assert "lay-outline" in codes(problem, lay)


def test_outline_of_a_mirrored_shape_mirrored_wrongly() -> None:
    """Turned over means mirrored across the grain line: the other mirror is a fault."""
    problem = three(shapes=(shape("a", flips=(True,)),))
    good = lie(problem, "a", 100, 60, flipped=True)
    assert judge(problem, lay_of(problem, good)) == ()
    other = tuple((200 - x, y) for x, y in lie(problem, "a", 100, 60).outline)
    lay = lay_of(problem, dataclasses.replace(good, outline=other))
    assert codes(problem, lay) == {"lay-outline"}


def test_false_claims() -> None:
    """`used`, `fits` and `short_by` are measured, not believed."""
    problem = three()
    lay = lay_of(problem, *clean(problem))
    assert codes(problem, dataclasses.replace(lay, used={"shell": 404.5})) == {"lay-used"}
    assert codes(problem, dataclasses.replace(lay, used={})) == {"lay-used"}
    assert codes(problem, dataclasses.replace(lay, fits=False)) == {"lay-fits"}
    assert codes(problem, dataclasses.replace(lay, short_by=10.0)) == {"lay-short-by"}
    assert codes(problem, dataclasses.replace(lay, short_by=None)) == {"lay-short-by"}


RULES = (
    OnLine(id="r", shape="c", points=("hem", "hem 2"), axis="along", at=395.0),
    AtPhase(id="r", shape="c", point="centre", axis="along", phase=5.0, repeat=100.0),
    AtPhase(id="r", shape="c", point="centre", axis="across", phase=60.0, repeat=90.0),
    SamePhase(
        id="r", shape_a="c", point_a="centre", shape_b="a", point_b="centre", axis="along",
        repeat=41.0,
    ),
    MirrorPhase(
        id="r", shape_a="c", point_a="centre", shape_b="a", point_b="centre", axis="along",
        repeat=100.0, about=2.5,
    ),
    KeepClear(
        id="r", shape="c", point="centre", radius=30.0, centre=(275.0, 60.0), repeat_along=None,
        repeat_across=None,
    ),
    KeepClear(
        id="r", shape="c", point="centre", radius=30.0, centre=(75.0, 960.0), repeat_along=100.0,
        repeat_across=100.0,
    ),
    KeepOff(id="r", shape="c", region="shell", low=110.0, high=150.0),
)  # fmt: skip


@pytest.mark.parametrize("rule", RULES, ids=lambda r: type(r).__name__)
def test_rule_held_and_missed(rule: object) -> None:
    """Each rule holds where it should and 0.2 mm of error is found."""
    problem = three(rules=(rule,), gap=0.0)
    places = clean(problem)
    shift = -0.2 if isinstance(rule, KeepClear) else 0.2
    lay = lay_of(problem, *places)
    assert residuals(problem, lay) == {"r": pytest.approx(0.0, abs=1e-9)}
    assert judge(problem, lay) == ()
    across = getattr(rule, "axis", "along") == "across"
    x, y = (305.0, 60.2) if across else (305.0 + shift, 60.0)
    if isinstance(rule, KeepOff):
        x, y = (305.0, 60.2)
    places[2] = lie(problem, "c", x, y, turn_deg=180)
    lay = lay_of(problem, *places)
    assert residuals(problem, lay) == {"r": pytest.approx(0.2, abs=1e-6)}
    assert codes(problem, lay) == {"lay-rule"}


@pytest.mark.parametrize(
    ("low", "high", "residual"),
    [(0.0, 10.0, 0.0), (0.0, 10.5, 0.5), (109.0, 300.0, 1.0), (30.0, 60.0, 50.0), (0, 300, 110.0)],
)
def test_the_whole_outline_keeps_off_a_band(low: float, high: float, residual: float) -> None:
    """From either side, the band inside the piece or the piece inside the band: the way out."""
    rule = KeepOff(id="r", shape="c", region="shell", low=low, high=high)
    problem = three(rules=(rule,), gap=0.0)
    lay = lay_of(problem, *clean(problem))
    assert residuals(problem, lay)["r"] == pytest.approx(residual, abs=1e-9)
    assert codes(problem, lay) == ({"lay-rule"} if residual > 0.1 else set())


UP = Upright(id="r", shape="c", region="shell", up_deg=0.0)


@pytest.mark.parametrize(
    ("turn", "flipped", "beyond"),
    [(0, False, 0), (45, False, 0), (315, True, 0), (90, False, 45), (180, False, 135),
     (180, True, 135), (270, True, 45), (50, False, 5)],
)  # fmt: skip
def test_nothing_lies_against_its_print(turn: float, flipped: bool, beyond: float) -> None:
    """Up to 45 degrees a figure stands; past that the chord at 100 mm of the turn beyond is told.

    Turned over, a piece's top stays where it points: turning over is about the grain arrow.
    """
    turns = (0.0, 45.0, 50.0, 90.0, 180.0, 270.0, 315.0)
    free = shape("c", turns_deg=turns, flips=(False, True))
    problem = three(rules=(UP,), gap=0.0, shapes=(shape("a"), shape("b"), free))
    places = clean(problem)
    places[2] = lie(problem, "c", 700.0, 250.0, turn_deg=turn, flipped=flipped)
    lay = lay_of(problem, *places)
    a, b = ((100 * math.cos(t), 100 * math.sin(t)) for t in (0.0, math.radians(beyond)))
    assert residuals(problem, lay)["r"] == pytest.approx(math.dist(a, b), abs=1e-9)
    assert codes(problem, lay) == ({"lay-rule"} if beyond else set())


@pytest.mark.parametrize(
    ("low", "turn", "residual"),
    [(109.5, 180, 0.5), (110.0, 180, 0.0), (40.0, 0, 0.0), (60.0, 95, 84.5237)],
)
def test_a_border_binds_only_what_lies_on_it(low: float, turn: float, residual: float) -> None:
    """The shorter way out counts: off the band across, or turned upright (50 degrees: 84.5 mm)."""
    band = dataclasses.replace(UP, low=low, high=300.0)
    free = shape("c", turns_deg=(0.0, 95.0, 180.0))
    problem = three(rules=(band,), gap=0.0, shapes=(shape("a"), shape("b"), free))
    places = clean(problem)
    y = 60.0 if turn in (0, 180) else 260.0
    places[2] = lie(problem, "c", 500.0, y, turn_deg=turn)
    assert residuals(problem, lay_of(problem, *places))["r"] == pytest.approx(residual, abs=1e-4)


def test_a_band_of_another_cloth_asks_nothing() -> None:
    """A piece cut from a cloth without the border keeps off nothing."""
    other = dataclasses.replace(SHELL, name="other")
    rule = KeepOff(id="r", shape="c", region="other", low=0.0, high=300.0)
    against = dataclasses.replace(UP, id="up", region="other")
    problem = three(rules=(rule, against), gap=0.0, regions=(SHELL, other))
    assert judge(problem, lay_of(problem, *clean(problem))) == ()


def test_phase_off_by_whole_repeats_is_no_fault_and_half_a_repeat_is() -> None:
    """Phases count modulo the repeat."""
    rule = AtPhase(id="r", shape="c", point="centre", axis="along", phase=5.0, repeat=100.0)
    problem = three(rules=(rule,))
    places = [*clean(problem)[:2], lie(problem, "c", 705, 60)]
    assert judge(problem, lay_of(problem, *places)) == ()
    places[2] = lie(problem, "c", 655, 60)
    assert residuals(problem, lay_of(problem, *places))["r"] == pytest.approx(50.0)


def test_same_turn() -> None:
    """All tops one way: a single piece turned the other way is found, at any position."""
    problem = three(rules=(SameTurn(id="r", shapes=("a", "b", "c")),))
    places = clean(problem)
    lay = lay_of(problem, *places)
    assert residuals(problem, lay)["r"] == pytest.approx(200.0)
    assert codes(problem, lay) == {"lay-rule"}
    places[2] = lie(problem, "c", 305, 60)
    assert judge(problem, lay_of(problem, *places)) == ()


def test_pinned() -> None:
    """A pinned piece that moved, turned or was turned over is found."""
    pin = Pinned(id="r", shape="c", region="shell", x=305.0, y=60.0, turn_deg=180.0, flipped=False)
    problem = three(rules=(pin,))
    places = clean(problem)
    assert judge(problem, lay_of(problem, *places)) == ()
    places[2] = lie(problem, "c", 305.2, 60, turn_deg=180)
    assert codes(problem, lay_of(problem, *places)) == {"lay-rule"}
    places[2] = lie(problem, "c", 305, 60)
    assert residuals(problem, lay_of(problem, *places))["r"] == pytest.approx(200.0)


def test_rule_naming_nothing_known_is_missed_and_unplaced_is_skipped() -> None:
    """A rule about an unknown point is never held; one about an unplaced shape is skipped."""
    rule = AtPhase(id="r", shape="c", point="nowhere", axis="along", phase=0, repeat=100)
    problem = three(rules=(rule,))
    assert residuals(problem, lay_of(problem, *clean(problem)))["r"] == math.inf
    lay = lay_of(problem, *clean(problem)[:2])
    lay = dataclasses.replace(lay, unplaced={"c": "no room"}, fits=False, short_by=None)
    assert residuals(problem, lay) == {}
    assert codes(problem, lay) == {"lay-unplaced", "lay-rule-skipped"}
    said = dataclasses.replace(problem, said={"r": ("c lies at the stripe",)})
    told = {f.code: say(f.words, Unit.cm) for f in judge(said, lay)}
    assert told["lay-rule-skipped"] == "“c lies at the stripe” is not known: c found no place."


@pytest.mark.parametrize("gone", [False, True])
def test_what_the_cloth_asks_is_told_without_the_name_of_a_rule(gone: bool) -> None:
    """A rule that no plan asks is said in words too, missed or not known."""
    rules = (
        KeepOff(id="off x9 c", shape="c", region="shell", low=0.0, high=900.0),
        Upright(id="up x9 c", shape="c", region="shell", up_deg=90.0),
        SameTurn(id="x9", shapes=("c", "b"), by_deg=20.0),
    )
    problem = three(rules=rules)
    lay = lay_of(problem, *clean(problem)[: 2 if gone else 3])
    told = [say(f.words, Unit.cm) for f in judge(problem, lay) if f.code.startswith("lay-rule")]
    assert len(told) == 3
    assert not [words for words in told if "x9" in words]
