"""Lay problems for the bench: research instances given by path, and ruled ones of our own."""

from __future__ import annotations

import json
import math
import random
from pathlib import Path

from clothwright.lay.problem import (
    AtPhase,
    KeepClear,
    LayProblem,
    MirrorPhase,
    OnLine,
    Point,
    Region,
    Ring,
    Rule,
    SamePhase,
    SameTurn,
    Shape,
)

PUBLISHED = {
    "albano": (89.47, 89.82),
    "dagli": (89.26, 90.17),
    "mao": (86.14, 86.87),
    "marques": (90.93, 92.01),
    "shirts": (89.66, 90.92),
    "swim": (78.26, 79.83),
    "trousers": (91.73, 92.61),
}
"""Density in percent: mean of runs of 20 min and record, Gardeyn, Vanden Berghe and Wauters 2025
(arXiv 2509.13329)."""


def research(path: Path, scale_to: float = 0.0) -> LayProblem:
    """A strip-packing instance in the JSON of the open research collections.

    scale_to: the strip's width in mm to scale to (0: as it is).
    """
    data = json.loads(path.read_text(encoding="utf-8"))
    scale = scale_to / data["strip_height"] if scale_to else 1.0
    shapes: list[Shape] = []
    for item in data["items"]:
        ring = [(x * scale, y * scale) for x, y in item["shape"]["data"]]
        ring = ring[:-1] if ring[0] == ring[-1] else ring
        ring = ring if _area(ring) > 0 else ring[::-1]
        shapes += [
            Shape(
                id=f"{item['id']}-{copy}",
                piece=str(item["id"]),
                copy=copy,
                outline=tuple(ring),
                turns_deg=tuple(item["allowed_orientations"]),
            )
            for copy in range(1, item["demand"] + 1)
        ]
    region = Region(name="strip", width=data["strip_height"] * scale, length=None)
    return LayProblem(regions=(region,), shapes=tuple(shapes))


def _area(ring: list[Point] | Ring) -> float:
    ends = zip(ring, [*ring[1:], ring[0]], strict=True)
    doubled: float = sum(ax * by - ay * bx for (ax, ay), (bx, by) in ends)
    return doubled / 2.0


def density(problem: LayProblem, used: float) -> float:
    """Percent of the length used that is cutting outline."""
    area = sum(_area(shape.outline) for shape in problem.shapes)
    region = problem.regions[0]
    return 100.0 * area / (used * region.width)


# --- pieces of our own (demo data) --------------------------------------------------------------
# Grain along +x, hem towards -x: at turn 90 the hem lies along the lower selvedge.


def panel(hem: float, top: float, height: float, curve: float = 12.0) -> Ring:
    """A flared skirt panel, its hem a shallow curve at x = 0, waist at x = height."""
    n = 6
    low = [(curve * math.sin(math.pi * k / n), hem / 2 - hem * k / n) for k in range(n + 1)]
    waist = [(height, -top / 2), (height, top / 2)]
    ring = [*low, *waist]
    return tuple(ring if _area(ring) > 0 else ring[::-1])


def sleeve(width: float, wrist: float, length: float) -> Ring:
    """A set-in sleeve, wrist at x = 0, cap towards +x."""
    cap = length * 0.72
    n = 10
    crown = [
        (cap + (length - cap) * math.sin(math.pi * k / n), -width / 2 + width * k / n)
        for k in range(n + 1)
    ]
    ring = [(0.0, wrist / 2), (0.0, -wrist / 2), *crown]
    return tuple(ring if _area(ring) > 0 else ring[::-1])


def bodice(width: float, length: float, scoop: float) -> Ring:
    """Half a bodice, hem at x = 0, centre along y = 0, armhole hollow towards +y."""
    n = 6
    armhole = [
        (length * 0.55 + length * 0.4 * k / n, width - scoop * math.sin(math.pi / 2 * k / n))
        for k in range(n + 1)
    ]
    neck = [
        (
            length - 0.18 * length * math.sin(math.pi / 2 * k / 4),
            width * 0.38 - width * 0.38 * k / 4,
        )
        for k in range(5)
    ]
    ring = [(0.0, 0.0), (0.0, width), *armhole, *neck]
    ring = list(dict.fromkeys(ring))
    return tuple(ring if _area(ring) > 0 else ring[::-1])


def block(length: float, width: float) -> Ring:
    """A plain strip: facing, band, pocket, belt."""
    return ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))


ALL = (0.0, 180.0)
HEM_LOW = (90.0,)
HEM_EITHER = (90.0, 270.0)


def _shape(name: str, ring: Ring, turns: tuple[float, ...], **more: object) -> Shape:
    piece, _, copy = name.partition(" ")
    points = more.pop("points", {})
    return Shape(
        id=name,
        piece=piece,
        copy=int(copy or 1),
        outline=ring,
        turns_deg=turns,
        points=points,  # type: ignore[arg-type]
        **more,  # type: ignore[arg-type]
    )


def _pair(name: str, ring: Ring, turns: tuple[float, ...], **more: object) -> list[Shape]:
    return [
        _shape(f"{name} 1", ring, turns, flips=(False,), **dict(more)),
        _shape(f"{name} 2", ring, turns, flips=(True,), **dict(more)),
    ]


def _small(turns: tuple[float, ...] = ALL) -> list[Shape]:
    return [
        *_pair("facing", sleeve(210, 180, 320), turns),
        *_pair("pocket", block(190, 170), turns),
        *_pair("flap", block(70, 180), turns),
        _shape("collar", block(110, 460), turns),
        _shape("band", block(760, 80), turns),
        *_pair("cuff", block(90, 260), turns),
        _shape("belt", block(900, 60), turns),
    ]


CLOTH = Region(name="shell", width=1400.0, length=None, margin_lower=10, margin_upper=10)
GAP = 4.0


def _skirt(count: int) -> list[Shape]:
    return [
        _shape(f"panel {k}", panel(520, 340, 620), HEM_LOW, points={"a": (0, -250), "b": (0, 250)})
        for k in range(1, count + 1)
    ]


def _hem_rules(shapes: list[Shape], at: float) -> list[Rule]:
    return [
        OnLine(id=f"hem {s.id}", shape=s.id, points=("a", "b"), axis="across", at=at)
        for s in shapes
    ]


def border_one() -> LayProblem:
    """Four skirt panels with the hem on a border along one selvedge, ten free pieces."""
    panels = _skirt(4)
    return LayProblem(
        regions=(CLOTH,), shapes=(*panels, *_small()), rules=tuple(_hem_rules(panels, 30)), gap=GAP
    )


def border_coat() -> LayProblem:
    """A coat and a skirt: hems, fronts and sleeves on one border, the rest free."""
    at = {"points": {"a": (0, 20), "b": (0, 300)}}
    bound = [
        *_skirt(2),
        *_pair("front", bodice(330, 640, 90), HEM_LOW, **at),
        _shape("back", panel(620, 420, 660, 0.0), HEM_LOW, points={"a": (0, -300), "b": (0, 300)}),
        *_pair("sleeve", sleeve(400, 260, 590), HEM_LOW, points={"a": (0, -120), "b": (0, 120)}),
    ]
    return LayProblem(
        regions=(CLOTH,),
        shapes=(*bound, *_small()),
        rules=tuple(_hem_rules(bound, 30)),
        gap=GAP,
    )


def border_two() -> LayProblem:
    """A border along both selvedges: eight panels, four hems on each side, rows may interlock."""
    lower = [
        _shape(f"low {k}", panel(460, 260, 560), (90.0,), points={"a": (0, -220), "b": (0, 220)})
        for k in range(1, 5)
    ]
    upper = [
        _shape(f"up {k}", panel(460, 260, 560), (270.0,), points={"a": (0, -220), "b": (0, 220)})
        for k in range(1, 5)
    ]
    cloth = Region(name="shell", width=1140.0, length=None, margin_lower=10, margin_upper=10)
    rules = [*_hem_rules(lower, 30), *_hem_rules(upper, 1110)]
    return LayProblem(
        regions=(cloth,), shapes=(*lower, *upper, *_small()), rules=tuple(rules), gap=GAP
    )


def plaid() -> LayProblem:
    """A checked jacket: fronts mirrored, side seams and sleeves matched, repeat both ways."""
    along, across = 120.0, 90.0
    side = {"hip": (40.0, 320.0), "centre": (0.0, 15.0), "arm": (380.0, 300.0)}
    back = {"hip": (40.0, 310.0), "hip b": (40.0, -310.0), "centre": (0.0, 0.0)}
    bound = [
        *_pair("front", bodice(330, 640, 90), ALL, points=side),
        _shape("back", panel(620, 420, 660, 0.0), ALL, points=back),
        *_pair("sleeve", sleeve(400, 260, 590), ALL, points={"notch": (430.0, -180.0)}),
    ]
    rules: list[Rule] = [
        SamePhase(
            id="fronts along", shape_a="front 1", point_a="hip", shape_b="front 2", point_b="hip",
            axis="along", repeat=along,
        ),
        MirrorPhase(
            id="fronts across", shape_a="front 1", point_a="centre", shape_b="front 2",
            point_b="centre", axis="across", repeat=across, about=20.0,
        ),
        SamePhase(
            id="side along", shape_a="front 1", point_a="hip", shape_b="back", point_b="hip",
            axis="along", repeat=along,
        ),
        AtPhase(
            id="back across", shape="back", point="centre", axis="across", phase=20.0,
            repeat=across,
        ),
        SamePhase(
            id="sleeve 1 along", shape_a="sleeve 1", point_a="notch", shape_b="front 1",
            point_b="arm", axis="along", repeat=along,
        ),
        SamePhase(
            id="sleeve 2 along", shape_a="sleeve 2", point_a="notch", shape_b="front 2",
            point_b="arm", axis="along", repeat=along,
        ),
        SameTurn(id="one way", shapes=tuple(s.id for s in bound)),
    ]  # fmt: skip
    cloth = Region(name="shell", width=1480.0, length=None, margin_lower=10, margin_upper=10)
    return LayProblem(regions=(cloth,), shapes=(*bound, *_small()), rules=tuple(rules), gap=GAP)


def one_way() -> LayProblem:
    """A one-way figure: all tops one way, the centre of back and fronts on the figure's axis."""
    problem = plaid()
    shapes = problem.shapes
    rules: list[Rule] = [
        AtPhase(
            id="back", shape="back", point="centre", axis="across", phase=160.0, repeat=320.0
        ),
        SamePhase(
            id="fronts", shape_a="front 1", point_a="hip", shape_b="front 2", point_b="hip",
            axis="along", repeat=320.0,
        ),
        KeepClear(
            id="clear", shape="front 1", point="centre", radius=60.0, centre=(160.0, 0.0),
            repeat_along=320.0, repeat_across=320.0,
        ),
        SameTurn(id="one way", shapes=tuple(s.id for s in shapes)),
    ]  # fmt: skip
    return LayProblem(regions=problem.regions, shapes=shapes, rules=tuple(rules), gap=GAP)


def mirrored() -> LayProblem:
    """Pairs mirrored about the axis of a large figure, free along the cloth."""
    rules: list[Rule] = []
    shapes: list[Shape] = []
    at = {"points": {"centre": (0.0, 15.0)}}
    for name, ring in (
        ("front", bodice(330, 640, 90)),
        ("back", bodice(320, 660, 80)),
        ("side", bodice(240, 640, 60)),
    ):
        shapes += _pair(name, ring, ALL, **at)
        rules.append(
            MirrorPhase(
                id=f"{name} across", shape_a=f"{name} 1", point_a="centre", shape_b=f"{name} 2",
                point_b="centre", axis="across", repeat=280.0, about=70.0,
            )
        )  # fmt: skip
        rules.append(
            SamePhase(
                id=f"{name} along", shape_a=f"{name} 1", point_a="centre", shape_b=f"{name} 2",
                point_b="centre", axis="along", repeat=200.0,
            )
        )  # fmt: skip
    return LayProblem(regions=(CLOTH,), shapes=(*shapes, *_small()), rules=tuple(rules), gap=GAP)


def flaw() -> LayProblem:
    """The border problem on cloth with three flaws."""
    problem = border_one()
    spots: tuple[Ring, ...] = tuple(
        ((x, y), (x + 90, y), (x + 90, y + 70), (x, y + 70))
        for x, y in ((420.0, 760.0), (1100.0, 330.0), (1700.0, 1010.0))
    )
    cloth = Region(
        name="shell", width=1400.0, length=None, margin_lower=10, margin_upper=10, keep_out=spots
    )
    return LayProblem(regions=(cloth,), shapes=problem.shapes, rules=problem.rules, gap=problem.gap)


def remnant() -> LayProblem:
    """A remnant with a ragged end and a hole, free pieces and two bound ones."""
    rng = random.Random(4)
    end = [(1750.0 + rng.uniform(-60, 60), 1400.0 * k / 12) for k in range(13)]
    outline: Ring = ((0.0, 0.0), *end, (0.0, 1400.0))
    cloth = Region(
        name="shell", width=1400.0, length=1850.0, outline=outline, margin_lower=10,
        margin_upper=10, keep_out=(((800, 600), (960, 600), (960, 720), (800, 720)),),
    )  # fmt: skip
    panels = _skirt(2)
    return LayProblem(
        regions=(cloth,), shapes=(*panels, *_small()), rules=tuple(_hem_rules(panels, 30)), gap=GAP
    )


def stripes() -> LayProblem:
    """Stripes across the cloth: every hem on the same stripe, along only."""
    problem = plaid()
    rules: list[Rule] = [
        SamePhase(
            id=f"{a} {b}", shape_a=a, point_a="hip", shape_b=b, point_b="hip", axis="along",
            repeat=75.0,
        )
        for a, b in (("front 1", "front 2"), ("front 1", "back"))
    ]  # fmt: skip
    return LayProblem(regions=problem.regions, shapes=problem.shapes, rules=tuple(rules), gap=GAP)


def fold() -> LayProblem:
    """Half a cloth folded lengthwise: the demo outfit's pairs once, its halves bound to the fold.

    The comb and the problem without rules are given the same halves and pairs.
    """
    from clothwright.cloth.cloth import Cloth
    from clothwright.demo import coat_and_skirt
    from clothwright.lay.folded import depths, doubled
    from clothwright.rules.compile import compile_lay
    from clothwright.rules.plan import Plan
    from clothwright.workbook import replay

    cloth = Cloth(name="plain wool", width=1500.0)
    pattern = replay(coat_and_skirt()).pattern
    done = compile_lay(pattern, (cloth,), Plan(name="folded"), gap=GAP)
    return doubled(done, cloth, "lengthwise", depths(done, cloth, "lengthwise")[0]).problem


RULED = {
    "border one side": border_one,
    "border coat": border_coat,
    "border both sides": border_two,
    "plaid": plaid,
    "stripes": stripes,
    "one-way figure": one_way,
    "mirrored pairs": mirrored,
    "flaws": flaw,
    "remnant": remnant,
    "fold": fold,
}


def unruled(problem: LayProblem) -> LayProblem:
    """The same pieces on the same cloth without rules or flaws: what the print costs is the rest.

    Shapes that the border turned across the grain keep their turns.
    """
    regions = tuple(
        Region(
            name=r.name, width=r.width, length=None, margin_lower=r.margin_lower,
            margin_upper=r.margin_upper,
        )
        for r in problem.regions
    )  # fmt: skip
    return LayProblem(regions=regions, shapes=problem.shapes, gap=problem.gap)


def thirty() -> LayProblem:
    """Thirty pieces: the time to the first lay is measured on it."""
    a, b = border_coat(), plaid()
    more = [s for s in b.shapes if s.points]
    renamed = [
        Shape(
            id=f"{s.id}'", piece=s.piece, copy=s.copy, outline=s.outline, turns_deg=s.turns_deg,
            flips=s.flips, points=s.points,
        )
        for s in (*more, *_small()[:6])
    ]  # fmt: skip
    return LayProblem(regions=(CLOTH,), shapes=(*a.shapes, *renamed), rules=a.rules, gap=GAP)
