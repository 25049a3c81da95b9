"""Every code of every check has a planted fault that raises it, and nothing else."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import NamedTuple

import pytest

from clothwright import checks
from clothwright.changes import shorten_dart
from clothwright.checks import (
    CHECKS,
    BorderEdge,
    CheckSettings,
    adjoining_hems,
    bands,
    buttons,
    companions_follow,
    corners_as_sewn,
    cut_counts,
    darts,
    darts_inside,
    fair_lines,
    fullness_places,
    grain_across,
    grain_and_fold,
    head_opening,
    hem_fullness,
    levels_across,
    mating_allowances,
    notch_partners,
    openings,
    outline,
    patches_fit,
    run_checks,
    seam_lengths,
    seam_ways,
)
from clothwright.errors import CannotDo
from clothwright.geometry.path import Path
from clothwright.geometry.transform import reflection, rotation_deg, translation
from clothwright.geometry.vec import Vec
from clothwright.pattern.finding import Severity
from clothwright.pattern.pattern import Along, Companion, Pattern
from clothwright.pattern.piece import Cut, Dart, Edge, Level, Mark, Notch, NotchKind, Role
from clothwright.pattern.ways_round import turned
from clothwright.pattern.whole import unfolded
from clothwright.units import Unit
from clothwright.words import say
from tests.checks.specimens import curve, front, outfit, seam, sleeve
from tests.faults import lying, slant_pocket
from tests.faults import planting as plant
from tests.garments.wardrobe import GARMENTS
from tests.words.walker import strays

HEM_BORDER = (BorderEdge(piece="front", edge="hem", plan="border at the hems"),)

FAULT, NOTICE, SKIPPED = Severity.FAULT, Severity.NOTICE, Severity.SKIPPED


class Planted(NamedTuple):
    """A fault: how to plant it, and how it must be weighed."""

    code: str
    severity: Severity
    spoil: Callable[[Pattern], Pattern]
    borders: tuple[BorderEdge, ...] = ()
    body: tuple[tuple[str, float], ...] = ()

    @property
    def settings(self) -> CheckSettings:
        """What the checks are run with: borders at hems, a wearer too large."""
        return CheckSettings(borders=self.borders, body=self.body)


def hem(*points: tuple[float, float]) -> Callable[[Pattern], Pattern]:
    return lambda p: p.with_piece(plant.redrawn(p.piece("front"), "hem", plant.through(*points)))


def hem_curve(start_deg: float, end_deg: float) -> Callable[[Pattern], Pattern]:
    path = curve(Vec(0, 0), start_deg, Vec(240, 0), end_deg)
    return lambda p: p.with_piece(plant.redrawn(p.piece("front"), "hem", path))


def hump(high: float) -> Callable[[Pattern], Pattern]:
    """The front's hem rises in the middle and comes down again, level at both ends."""
    top = Vec(120, high)
    path = Path(curve(Vec(0, 0), 0, top, 0).segments + curve(top, 0, Vec(240, 0), 0).segments)
    return lambda p: p.with_piece(plant.redrawn(p.piece("front"), "hem", path))


def cap(front_ease: float, back_ease: float, **seam: object) -> Callable[[Pattern], Pattern]:
    return lambda p: plant.with_seam(p.with_piece(sleeve(front_ease, back_ease)), "armhole", **seam)


def cap_notch(n: int, by: float) -> Callable[[Pattern], Pattern]:
    def spoil(p: Pattern) -> Pattern:
        at = p.piece("sleeve").edge("cap").notches[n].at
        return plant.with_notch(p, "sleeve", "cap", n, at=at + by)

    return spoil


def nick(p: Pattern) -> Pattern:
    piece = p.piece("front")
    first = replace(piece.edge("hem"), path=plant.through((0, 0), (239.8, 0)))
    second = Edge(
        name="nick", path=plant.through((239.8, 0), (240, 0)), role=Role.HEM, allowance=30.0
    )
    return p.with_piece(replace(piece, edges=(first, second, *piece.edges[1:])))


def slot(p: Pattern) -> Pattern:
    """A slot 12 mm wide in the hem, with allowances of 30 mm on both of its sides."""
    piece = p.piece("front")
    stations = ((0, 0), (100, 0), (100, 80), (112, 80), (112, 0), (240, 0))
    names = ("hem", "slot left", "slot top", "slot right", "hem 2")
    edges = tuple(
        Edge(name=n, path=plant.through(a, b), role=Role.HEM, allowance=30.0)
        for n, a, b in zip(names, stations, stations[1:], strict=False)
    )
    return p.with_piece(replace(piece, edges=(*edges, *piece.edges[1:])))


def crossed_names(p: Pattern) -> Pattern:
    p = plant.with_notches(p, "front", "side", Notch(at=60.0, name="low"))
    back = p.piece("back").edge("side")
    return plant.with_notches(p, "back", "side", Notch(at=back.length - 120.0, name="low"))


def dart(**more: object) -> Callable[[Pattern], Pattern]:
    def spoil(p: Pattern) -> Pattern:
        piece = front()
        return p.with_piece(replace(piece, darts=(replace(piece.darts[0], **more),)))  # type: ignore[arg-type]

    return spoil


def blunt_dart(p: Pattern) -> Pattern:
    """The bust dart's cap cut 4 mm deeper than it should be; net lengths stay."""
    piece = p.piece("front")
    start, a, apex, b, end = piece.edge("side").path.flatten()
    apex -= Vec(4, 0)
    cap_path = plant.through(start, a, apex, b, end)
    spoilt = piece.darts[0]
    spoilt = replace(spoilt, b=spoilt.a + a.distance(apex) + apex.distance(b))
    edge = replace(piece.edge("side"), path=cap_path)
    return p.with_piece(replace(piece.with_edge(edge), darts=(spoilt,)))


def twin_darts(p: Pattern) -> Pattern:
    piece = p.piece("skirt front")
    more = tuple(
        Dart(name=name, edge="hem", a=at, b=at + 4, point=Vec(at + 2, 150))
        for name, at in (("one", 100.0), ("two", 102.0))
    )
    return p.with_piece(replace(piece, darts=piece.darts + more))


def crossing_darts(p: Pattern) -> Pattern:
    """A narrow dart from the hem that runs up into the waist dart."""
    piece = p.piece("skirt front")
    long = Dart(name="long", edge="hem", a=108.0, b=112.0, point=Vec(110, 520))
    return p.with_piece(replace(piece, darts=(*piece.darts, long)))


def bust_point_at(x: float) -> Callable[[Pattern], Pattern]:
    return piece("front", marks=(Mark(name="bust point", at=Vec(x, 140)),))


def set_back_dart(p: Pattern) -> Pattern:
    """The bust dart 75 mm shorter: 22.6 degrees at its point where 9.1 were drawn for."""
    return shorten_dart.apply(p, shorten_dart.ShortenDart(dart="front.bust", by=75.0)).pattern


def bent_side(p: Pattern) -> Pattern:
    """The back's side seam comes out by 5 mm, to a corner of 18 degrees half-way."""
    top, low = p.piece("back").edge("side").path.ends
    middle = top.lerp(low, 0.5) - Vec(5, 0)
    halves = curve(top, 270, middle, 261), curve(middle, 279, low, 270)
    path = Path((*halves[0].segments, *halves[1].segments))
    return p.with_piece(plant.redrawn(p.piece("back"), "side", path))


def rippled_hem(p: Pattern) -> Pattern:
    top = Vec(195, 5)
    ripple = (*curve(Vec(150, 0), 0, top, 0).segments, *curve(top, 0, Vec(240, 0), 0).segments)
    path = Path((*plant.through((0, 0), (150, 0)).segments, *ripple))
    return p.with_piece(plant.redrawn(p.piece("front"), "hem", path))


def flared_sleeve(p: Pattern) -> Pattern:
    """The sleeve flares 10 degrees to both sides at its hem, which turns by 20: 6 cm deep."""
    left, right = Vec(-200, -400), Vec(200, -400)
    piece, new = p.piece("sleeve"), {}
    for name, path in (
        ("hem", curve(left, -10, right, 10, 0.3)),
        ("back underarm", curve(right, 100, Vec(165, 0), 85.7)),
        ("front underarm", curve(Vec(-165, 0), -85.7, left, -100)),
    ):
        notches = piece.edge(name).notches
        if notches:
            at = 200.0 if name.startswith("back") else path.length - 200.0
            notches = (replace(notches[0], at=at),)
        depth = 60.0 if name == "hem" else piece.edge(name).allowance
        new[name] = replace(piece.edge(name), path=path, notches=notches, allowance=depth)
    return p.with_piece(replace(piece, edges=tuple(new.get(e.name, e) for e in piece.edges)))


def gathered_in_front(p: Pattern) -> Pattern:
    """The waistband 40 mm shorter, all of it along the skirt's front."""
    band, s = p.piece("waistband"), p.seam("waist")
    half = band.edge("lower").notches[0].at - 40.0
    long = band.edge("lower").length - 40.0
    low, top = plant.through((0, 0), (long, 0)), plant.through((long, 40), (0, 40))
    edges = {
        "lower": replace(band.edge("lower"), path=low,
                         notches=(Notch(at=half, name="side waist"),)),
        "end": replace(band.edge("end"), path=plant.through((long, 0), (long, 40))),
        "upper": replace(band.edge("upper"), path=top),
    }  # fmt: skip
    p = p.with_piece(replace(band, edges=tuple(edges.get(e.name, e) for e in band.edges)))
    return p.with_seam(replace(s, a=s.b, b=s.a, join="gathered", ease=40.0))


def forgotten_lining(p: Pattern) -> Pattern:
    """The sleeve's lining, 20 mm shorter at its side seams than it is meant to be beside it."""
    piece = p.piece("sleeve")
    ties = tuple(
        Along(edge=e, piece="sleeve", edge_of=e, longer=20.0)
        for e in ("front underarm", "back underarm")
    )
    lining = replace(piece, name="sleeve lining", cuts=(Cut(material="lining", how="pair"),))
    with_it = Companion(piece="sleeve lining", kind="lining", of=ties)
    return replace(p, pieces=(*p.pieces, lining), companions=(with_it,))


def grain(name: str, turn_deg: float) -> Callable[[Pattern], Pattern]:
    def spoil(p: Pattern) -> Pattern:
        piece = p.piece(name)
        if piece.grain is None:
            return p
        end = rotation_deg(turn_deg, piece.grain.start).apply(piece.grain.end)
        return p.with_piece(replace(piece, grain=replace(piece.grain, end=end)))

    return spoil


def leaning_sleeve(p: Pattern) -> Pattern:
    return grain("sleeve", 4.0)(piece("sleeve", levels=())(p))


def lying_panel(_: Pattern) -> Pattern:
    """The princess bodice with the grain of its side back drawn across it."""
    pattern = GARMENTS["princess"]()
    panel = pattern.piece("side back")
    assert panel.grain is not None
    start, end = panel.grain.start, panel.grain.end
    turn = rotation_deg(90.0, start.lerp(end, 0.5))
    across = replace(panel.grain, start=turn.apply(start), end=turn.apply(end))
    return pattern.with_piece(replace(panel, grain=across))


def shallow_facing(p: Pattern) -> Pattern:
    """The sleeve faced along its front seam as far as the hem; the facing's own hem is 10 mm."""
    facing = replace(p.piece("sleeve"), name="sleeve facing", levels=())
    hem = replace(facing.edge("hem"), allowance=10.0)
    p = replace(p, pieces=(*p.pieces, facing.with_edge(hem)))
    faced = seam(
        "sleeve facing", "sleeve.front underarm", "sleeve facing.front underarm", kind="facing"
    )
    return replace(p, seams=(*p.seams, faced))


def leaning_facing(p: Pattern) -> Pattern:
    """The sleeve's hem faced with a piece of its own shape, its grain 4 degrees off."""
    facing = replace(p.piece("sleeve"), name="sleeve facing", levels=())
    p = replace(p, pieces=(*p.pieces, facing))
    faced = seam("sleeve facing", "sleeve.hem", "sleeve facing.hem", kind="facing")
    return grain("sleeve facing", 4.0)(replace(p, seams=(*p.seams, faced)))


def opened(p: Pattern) -> Pattern:
    return p.with_piece(unfolded(p.piece("front")))


def opened_and_tilted(p: Pattern) -> Pattern:
    """A notch beside its middle tells left from right: only the border is left to show the tilt."""
    p = plant.with_notches(opened(p), "front", "hem", Notch(at=30.0))
    return grain("front", 1.0)(piece("front", levels=())(p))


def level(name: str, level_name: str, by: float) -> Callable[[Pattern], Pattern]:
    def spoil(p: Pattern) -> Pattern:
        here = p.piece(name)
        levels = (
            replace(lv, at=lv.at + here.up * by) if lv.name == level_name else lv
            for lv in here.levels
        )
        return p.with_piece(replace(here, levels=tuple(levels)))

    return spoil


def piece(name: str, **more: object) -> Callable[[Pattern], Pattern]:
    return lambda p: p.with_piece(replace(p.piece(name), **more))  # type: ignore[arg-type]


def edge(name: str, edge_name: str, **more: object) -> Callable[[Pattern], Pattern]:
    return lambda p: plant.with_edge(p, name, edge_name, **more)


def lower_front(p: Pattern) -> Pattern:
    return p.with_piece(plant.lowered(p.piece("front"), 9.525))


PLANTED = (
    Planted(
        "outline-crosses",
        FAULT,
        hem((0, 0), (160, 0), (160, 40), (120, 40), (120, -40), (200, -40), (200, 0), (240, 0)),
    ),
    Planted("edge-without-length", FAULT, nick),
    Planted("cutting-line-impossible", FAULT, slot),
    Planted(
        "seam-turned-round",
        FAULT,
        lambda p: p.with_seam(turned(p.seam("armhole"))),
    ),
    Planted("seam-length", FAULT, lower_front),
    Planted(
        "seam-section-length", FAULT, lambda p: plant.with_notch(p, "front", "side", 0, at=95.0)
    ),
    Planted("notch-without-partner", NOTICE, lambda p: plant.without_notch(p, "back", "side", 0)),
    Planted(
        "notch-kinds-differ",
        NOTICE,
        lambda p: plant.with_notch(p, "back", "side", 0, kind=NotchKind.DOUBLE),
    ),
    Planted("notch-order", FAULT, crossed_names),
    Planted("notch-off-edge", FAULT, edge("front", "hem", notches=(Notch(at=300.0),))),
    Planted(
        "ease-notch-missing", NOTICE, lambda p: plant.with_seam(p, "shoulder", ease_from="lost")
    ),
    Planted("levels-apart", FAULT, level("back", "waist", 25.0)),
    Planted("cap-shorter", FAULT, cap(-3, -3)),
    Planted("cap-ease-low", NOTICE, cap(3, 5, ease=0.0)),
    Planted("cap-ease-high", NOTICE, cap(19, 24, ease=0.0)),
    Planted("cap-ease-not-meant", NOTICE, cap(9, 12)),
    Planted("cap-ease-under-arm", FAULT, cap_notch(2, -5.0)),
    Planted("cap-share-short", FAULT, cap_notch(1, -17.0)),
    Planted("cap-ease-front-heavy", NOTICE, cap_notch(1, -10.0)),
    Planted("cap-ease-back-heavy", NOTICE, cap_notch(1, 9.0)),
    Planted("cap-ease-skipped", SKIPPED, lambda p: plant.without_notch(p, "sleeve", "cap", 1)),
    Planted("corner-not-fair", FAULT, hem_curve(0, 12)),
    Planted("corner-not-square", NOTICE, hem_curve(8, 0)),
    Planted("line-steps", NOTICE, lambda _: slant_pocket.trousers(lower=3.0)),
    Planted("dart-legs-differ", NOTICE, dart(point=Vec(115, 155))),
    Planted("dart-cap-not-true", FAULT, blunt_dart),
    Planted("dart-point-outside", FAULT, dart(point=Vec(-20, 140))),
    Planted("darts-overlap", FAULT, twin_darts),
    Planted("darts-cross", FAULT, crossing_darts),
    Planted("dart-near-bust-point", NOTICE, bust_point_at(110.0)),
    Planted("line-bent-at-dart", FAULT, set_back_dart),
    Planted("line-bent", FAULT, bent_side),
    Planted("hem-waves", NOTICE, rippled_hem),
    Planted("allowances-differ", FAULT, edge("front", "side", allowance=10.0)),
    Planted("hem-depths-differ", FAULT, edge("front", "hem", allowance=50.0)),
    Planted("facing-hem-differs", NOTICE, shallow_facing),
    Planted("free-allowances-differ", FAULT, edge("front", "neck", allowance=10.0)),
    Planted("cut-counts-differ", FAULT, piece("sleeve", cuts=(Cut(how="once"),))),
    Planted("cut-twice-alike", FAULT, piece("sleeve", cuts=(Cut(how="once", count=2),))),
    Planted("hem-too-full", FAULT, flared_sleeve),
    Planted("hem-too-tight", NOTICE, edge("sleeve", "hem", allowance=60.0)),
    Planted("fullness-in-one-place", NOTICE, gathered_in_front),
    Planted("companion-left-behind", FAULT, forgotten_lining),
    Planted("cut-in-one-layer", NOTICE, lying.tied(1)),
    Planted("patches-too-few", NOTICE, lying.cut_once),
    Planted("patch-not-its-place", FAULT, lying.pocketed(120.0)),
    Planted("patch-not-its-shape", FAULT, lying.one_side_shorter),
    Planted("place-off-piece", FAULT, lying.pocketed(by=Vec(90, 0))),
    Planted("place-over-dart", NOTICE, lying.pocketed(by=Vec(0, 150))),
    Planted("place-in-hem", NOTICE, lying.pocketed(by=Vec(0, -220))),
    Planted("place-corner-off", FAULT, lying.corner_off),
    Planted("places-not-alike", NOTICE, lying.one_lower),
    Planted("button-off-piece", FAULT, lying.with_pieces(lying.tab("front tab", (-8.0, 100, 200)))),
    Planted(
        "button-off-row",
        FAULT,
        lying.with_pieces(lying.aside(lying.tab("front tab"), 15.0, "button 2")),
    ),
    Planted(
        "buttons-off-centre", FAULT, lying.with_pieces(lying.aside(lying.tab("front tab"), 6.0))
    ),
    Planted(
        "buttons-uneven", NOTICE, lying.with_pieces(lying.tab("front tab", (20, 100, 165, 260)))
    ),
    Planted("stand-too-narrow", FAULT, lying.with_pieces(lying.tab("front tab", stand=10.0))),
    Planted("stand-too-narrow", FAULT, lying.with_pieces(lying.tab("front tab", stand=0.0))),
    Planted("button-counts-differ", FAULT, lying.tabs((20, 100, 180, 260), (20, 140, 260))),
    Planted("buttons-do-not-meet", FAULT, lying.tabs((20, 140, 260), (21, 144, 261))),
    Planted("zip-not-its-opening", FAULT, lying.zipped(200.0)),
    Planted("lap-too-short", NOTICE, lying.lapped(5.0)),
    Planted("lap-leans", NOTICE, lying.swung(12.0)),
    Planted("line-off-piece", NOTICE, lying.fold_marked(30.0)),
    Planted("fold-off-middle", NOTICE, lying.fold_marked(0.0, at=16.0)),
    Planted("slit-off-edge", FAULT, lying.slit(15.0)),
    Planted("placket-too-short", FAULT, lying.short_placket),
    Planted("grain-missing", FAULT, piece("waistband", grain=None)),
    Planted("grain-off-fold", FAULT, grain("front", 2.0)),
    Planted("grain-off-centre", FAULT, lambda p: grain("front", 4.0)(opened(p))),
    Planted("grain-off-cap", NOTICE, leaning_sleeve),
    Planted("grain-off-facing", NOTICE, leaning_facing),
    Planted(
        "grain-off-beside", NOTICE, lambda _: grain("pocket back", 4.0)(slant_pocket.trousers())
    ),
    Planted("grain-lies-across", NOTICE, lying_panel),
    Planted(
        "fold-not-straight",
        FAULT,
        edge("waistband", "centre", path=plant.through((0, 40), (1, 20), (0, 0))),
    ),
    Planted("fold-twice", FAULT, edge("waistband", "end", role=Role.FOLD)),
    Planted("cut-on-missing-fold", FAULT, piece("sleeve", cuts=(Cut(how="fold"),))),
    Planted("fold-cut-single", FAULT, piece("waistband", cuts=(Cut(how="once"),))),
    Planted(
        "level-outside", NOTICE, piece("sleeve", levels=(Level(name="elbow", at=Vec(0, -700)),))
    ),
    Planted("hem-leaves-border", FAULT, hump(8.0), HEM_BORDER),
    Planted("grain-not-square-to-border", FAULT, opened_and_tilted, HEM_BORDER),
    Planted(
        "hem-for-border-skipped", SKIPPED, lambda p: p, (BorderEdge(piece="frnt", edge="hem"),)
    ),
    Planted("ease-below-body", FAULT, lambda p: p, body=(("hip", 1100.0),)),
    Planted("ease-below-least", NOTICE, lambda p: p, body=(("hip", 930.0),)),
    Planted("neck-too-small", FAULT, lambda p: p, body=(("head", 560.0),)),
    Planted("wearing-ease-skipped", SKIPPED, lambda p: p, body=(("bust", 900.0),)),
)

BROKEN = (
    (outline, "self_crossings"),
    (seam_ways, "is_turned_round"),
    (seam_lengths, "walk_seam"),
    (notch_partners, "walk_seam"),
    (corners_as_sewn, "corner_angle_deg"),
    (darts, "dart_legs"),
    (mating_allowances, "mates"),
    (darts_inside, "_wedge"),
    (fair_lines, "bend_at_dart"),
    (levels_across, "level_spot"),
    (adjoining_hems, "_line"),
    (cut_counts, "is_symmetrical"),
    (hem_fullness, "turned_up"),
    (fullness_places, "walk_seam"),
    (companions_follow, "left_behind"),
    (patches_fit, "places"),
    (buttons, "two_sides"),
    (openings, "slits_of"),
    (bands, "laps"),
    (grain_and_fold, "_is_met"),
    (grain_across, "cap_tilt_deg"),
    (head_opening, "closings"),
)
"""Checks that no pattern can stop: what they measure with is broken instead."""


def test_our_own_pattern_has_no_finding() -> None:
    """The clean pattern gives nothing, not even a note; with a border along its hems too."""
    borders = tuple(BorderEdge(piece=p, edge="hem") for p in ("front", "back", "skirt front"))
    assert run_checks(outfit()) == ()
    assert run_checks(outfit(), CheckSettings(borders=borders)) == ()


@pytest.mark.parametrize("fault", PLANTED, ids=lambda f: f.code)
def test_a_planted_fault_raises_its_code_and_no_other(fault: Planted) -> None:
    """One fault, one finding: the code and weight expected, a place that exists, words to read."""
    spoilt = fault.spoil(outfit())
    found = run_checks(spoilt, fault.settings)
    assert {f.code for f in found} == {fault.code}, [say(f.words, Unit.mm) for f in found]
    assert len(found) == 1
    assert found[0].severity is fault.severity
    for unit in (Unit.inch, Unit.cm):
        words = say(found[0].words, unit)
        assert words.endswith(".")
        assert strays(words, unit, spoilt) == []
    if fault.code != "hem-for-border-skipped":
        _place_exists(spoilt, found[0].where.piece, found[0].where.edge, found[0].where.seam)


def _place_exists(pattern: Pattern, piece_name: str, edge_name: str, seam_name: str) -> None:
    assert piece_name or seam_name
    if piece_name:
        assert not edge_name or pattern.piece(piece_name).edge(edge_name)
    if seam_name:
        assert pattern.seam(seam_name)


@pytest.mark.parametrize(("module", "name"), BROKEN, ids=lambda x: str(getattr(x, "ID", "")))
def test_a_check_that_cannot_run_says_so(
    monkeypatch: pytest.MonkeyPatch, module: object, name: str
) -> None:
    """Skipped is not passed: the finding names the check, and the other checks go on."""

    def broken(*_: object) -> None:
        raise CannotDo(what="this", why="it was broken on purpose")

    outline._first_crossing.cache_clear()
    monkeypatch.setattr(module, name, broken)
    body = (("head", 400.0),) if module is head_opening else ()
    found = run_checks(outfit(), CheckSettings(body=body))
    outline._first_crossing.cache_clear()
    assert {f.code for f in found} == {f"{module.ID}-skipped"}  # type: ignore[attr-defined]
    assert all(f.severity is SKIPPED for f in found)
    assert "broken on purpose" in say(found[0].words, Unit.mm)


def test_every_code_is_planted() -> None:
    """No code without a fault that raises it, no fault for a code that no check has."""
    planted = {f.code for f in PLANTED} | {f"{m.ID}-skipped" for m, _ in BROKEN}
    assert planted == {code for check in CHECKS for code in check.codes}


def test_codes_belong_to_one_check() -> None:
    """A code is raised by one check only, and each check has its skipped code."""
    codes = [code for check in CHECKS for code in check.codes]
    assert len(codes) == len(set(codes))
    assert all(f"{check.id}-skipped" in check.codes for check in checks.CHECKS)


def test_checks_of_the_body_are_those_that_need_one() -> None:
    """A check whose faults are planted with a wearer says so, and no other."""
    planted = {f.code for f in PLANTED if f.body}
    assert {c.id for c in CHECKS if c.of_body} == {c.id for c in CHECKS if planted & set(c.codes)}


MOVES = {
    "shifted": translation((1234.5, -77.0)),
    "turned": rotation_deg(37.0, (10.0, 20.0)),
    "mirrored": reflection((0.0, 3.0), (5.0, 14.0)),
}


def _told(pattern: Pattern, settings: CheckSettings) -> list[tuple[object, ...]]:
    return [
        (
            f.code,
            f.severity,
            f.where,
            None if f.measured is None else round(f.measured, 3),
            None if f.expected is None else round(f.expected, 3),
            say(f.words, Unit.mm),
            f.mend,
        )
        for f in run_checks(pattern, settings)
    ]


@pytest.mark.parametrize("move", MOVES)
@pytest.mark.parametrize("fault", PLANTED, ids=lambda f: f.code)
def test_moving_the_pattern_changes_no_finding(fault: Planted, move: str) -> None:
    """Lying elsewhere, turned or turned over, the pattern gets the same findings, word for word."""
    spoilt = fault.spoil(outfit())
    moved = plant.turned(spoilt, MOVES[move])
    assert _told(moved, fault.settings) == _told(spoilt, fault.settings)


@pytest.mark.parametrize("move", MOVES)
def test_moving_the_clean_pattern_finds_nothing(move: str) -> None:
    """Nor does moving bring up anything."""
    assert run_checks(plant.turned(outfit(), MOVES[move])) == ()


def test_a_spoilt_piece_differs(  # the planting itself can fail
) -> None:
    """Each planted fault really changes the pattern, or the settings."""
    clean = outfit()
    for fault in PLANTED:
        assert fault.spoil(clean) != clean or fault.borders or fault.body
