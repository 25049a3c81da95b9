"""A point at a place of the repeat, or on a mirror line of the print."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from clothwright.cloth.motions import AXES
from clothwright.errors import Sentence
from clothwright.lay import problem as put
from clothwright.lay.copies import points_of
from clothwright.rules.offers import Choice, Outfit
from clothwright.rules.plan import PlacingRule
from clothwright.rules.printed import Printed, printed_at
from clothwright.rules.room import ASIDE, HIGHER, LOWER, looser, on_body, room, room_words
from clothwright.rules.rule import Ask, Form, RuleKind, named
from clothwright.rules.table import CuttingTable, WrongRule
from clothwright.units.params import param


@dataclass(frozen=True, slots=True, kw_only=True)
class AtPhase(PlacingRule):
    """A point lies at a phase of the repeat (mm from phase 0); None leaves that way free.

    copies: "all", or "first" (the second of a pair is then tied by another rule). lower, higher,
    aside: mm on the body by which it may be missed.
    """

    piece: str = param("piece", "the piece whose point it is")
    point: str = param("own point", "", label="Which point")
    along: float | None = param(
        "length", "from where the repeat begins", default=None, label="Into the repeat, along"
    )
    across: float | None = param(
        "length", "from where the repeat begins", default=None, label="Into the repeat, across"
    )
    copies: str = param(
        "choice",
        "",
        default="all",
        choices={"all": "every copy", "first": "the first of a pair only"},
        label="This holds for",
    )
    lower: float = room(LOWER)
    higher: float = room(HIGHER)
    aside: float = room(ASIDE)


def said(rule: AtPhase) -> Sentence:
    """Return the rule in words."""
    out: list[str | float] = [f"{rule.piece}, {rule.point}, lies "]
    ways = [(mm, w) for mm, w in ((rule.along, "along"), (rule.across, "across")) if mm is not None]
    for n, (mm, way) in enumerate(ways):
        out += [", and "] if n else []
        out += [mm, " past"] if mm else ["at"]
        out.append(f" the start of the repeat, measured {way} the cloth")
    out += [] if ways else ["anywhere in the repeat"]
    return (*out, *room_words(rule.lower, rule.higher, rule.aside))


def asks(rule: AtPhase, at: CuttingTable) -> Iterator[put.Rule]:
    """Yield the places for each copy. Raises WrongRule where the cloth does not repeat.

    Both ways at once a half-drop or brick has two within its period; where the point may be missed,
    the first alone and its repeats.
    """
    copies = at.of(rule.piece)
    asked = [
        (a, mm) for a, mm in zip(AXES, (rule.along, rule.across), strict=True) if mm is not None
    ]
    for each in copies if rule.copies == "all" else copies[:1]:
        point, origin = at.point(each, rule.point), each.cloth.print.origin
        place, axis = points_of(each.copy)[point], asked[0][0] if asked else "along"
        design = printed_at(at, each, place, name=rule.point, field=axis)
        shifts, room = design.motions.shifts, (rule.lower, rule.higher, rule.aside)
        if len(asked) > 1 and len(shifts) > 1 and not any(room):
            x, y = (origin(axis) + phase for axis, phase in asked)
            along, across = design.motions.period
            yield put.AtFigure(
                id=f"at-phase {each.id}",
                shape=each.id,
                point=point,
                centres=tuple((x + dx, y + dy) for dx, dy in shifts),
                repeat_along=along,
                repeat_across=across,
            )
            continue
        for axis, phase in asked:
            yield put.AtPhase(
                id=f"at-phase {axis} {each.id}",
                shape=each.id,
                point=point,
                axis=axis,
                phase=origin(axis) + phase,
                repeat=_repeat(design, axis, alone=len(asked) == 1),
                **on_body(each, axis, *room),
            )


def _repeat(design: Printed, axis: str, *, alone: bool) -> float:
    """Return after how many mm a place of the design comes again. Raises WrongRule."""
    repeat = design.repeat(axis, axis, alone=alone)
    if not repeat:
        raise WrongRule(
            field=axis,
            what=f"the point lies on {design.words}, which comes once {axis} the cloth",
            expected="how far above the border's lower line the edge lies",
        )
    return repeat


def _axes(outfit: Outfit) -> Iterator[Choice]:
    for cloth in outfit.cloths:
        for way, lies, axes in (
            ("along", "across", cloth.print.axes_along),
            ("across", "along", cloth.print.axes_across),
        ):
            other = "across" if way == "along" else "along"
            for mm in axes if cloth.print.repeat(way) else ():
                place = (*((mm, " past") if mm else ("at",)), " the start of the repeat")
                yield Choice(
                    key=f"{cloth.name} {way} {mm:g}",
                    words=(f"the one that runs {lies} the cloth, ", *place),
                    values={way: mm, other: None},
                    group=cloth.name,
                )


ROOM = named("lower", "higher", "aside")
"""What every form of it asks for besides."""

RULE = RuleKind(
    id="at-phase",
    params=AtPhase,
    said=said,
    forms=(
        Form(
            id="on-axis",
            title="A point on a mirror line of the print",
            help="The centre front on the middle of the figure, for example.",
            asks=(
                Ask(name="point"),
                Ask(
                    name="axis",
                    label="Which mirror line",
                    offer=_axes,
                    none="no cloth has a mirror line in its repeat yet",
                    fills=("along", "across"),
                    must=True,
                ),
                *ROOM,
                Ask(name="copies"),
            ),
        ),
        Form(
            id="at-phase",
            title="A point at a place of the repeat",
            help="Counted from where the repeat begins; say it along the cloth, across it, or "
            "both.",
            asks=(
                Ask(name="point"),
                Ask(name="along", only="along"),
                Ask(name="across", only="across"),
                *ROOM,
                Ask(name="copies"),
            ),
            repeats=True,
            least_one=("along", "across"),
            lack="Say how far into the repeat the point lies, along or across.",
        ),
    ),
    asks=asks,
    on_print=True,
    loosened=lambda r: looser(r, f"{r.piece}, {r.point},", "height", "side"),
    dropped=lambda r: (
        f"let the figure fall as it may at {r.piece}, {r.point}",
        f"the figure is not centred at {r.piece}, {r.point}",
    ),
)
