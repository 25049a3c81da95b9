"""From a body and a size chart to the size, and to the change that cuts a pattern in it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from clothwright.body.chart import SizeChart
from clothwright.body.ease import LEVELS
from clothwright.body.measures import measure_of
from clothwright.body.suggest import (
    Kind,
    Standing,
    Suggestion,
    size_text,
    standing,
    standings,
    suggest,
)
from clothwright.errors import BadInput, ClothwrightError
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.sizes import SizeRange
from clothwright.units import Unit
from clothwright.units.params import read_params
from clothwright.words import show_length, told
from clothwright.workbook import Step, Workbook, change_of

SIZE_CHANGES = ("choose-size", "blend-sizes")


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizing:
    """What the chart says about the wearer.

    suggestions: for each kind of garment that the pattern is. standings: each measurement's size.
    step: the change that cuts the pattern so, or None; why_not: why there is none (in words).
    done: the list of changes does so already.
    """

    suggestions: tuple[Suggestion, ...]
    standings: tuple[Standing, ...]
    step: Step | None = None
    why_not: str = ""
    done: bool = False

    @property
    def change(self) -> str:
        """The change in words, "" when there is none."""
        if self.step is None:
            return ""
        if self.step.change == "choose-size":
            return f"the whole pattern in size {self.step.params['size']}"
        return f"sizes blended: {self.step.params['at']}"


def kinds_of(pattern: Pattern) -> tuple[Kind, ...]:
    """Return what kinds of garment a pattern is by its levels; both when they do not tell."""
    levels = {lv.name for p in pattern.pieces for lv in p.levels}
    upper = bool(levels & {"bust", "biceps"})
    lower = "hip" in levels or ("waist" in levels and not upper)
    kinds: tuple[Kind, ...] = ("upper",) if upper else ()
    kinds += ("lower",) if lower else ()
    return kinds or ("upper", "lower")


def sizing_of(book: Workbook) -> Sizing | None:
    """Return the sizes for the wearer of a workbook; None without a chart or a measurement."""
    body, chart = book.body.figures(), book.chart
    if chart is None or not body:
        return None
    found = (suggest(body, chart, kind) for kind in kinds_of(book.bought))
    suggestions = tuple(s for s in found if s is not None)
    each = standings(body, chart)
    try:
        step = _step(book, chart, suggestions)
    except ClothwrightError as error:
        return Sizing(suggestions=suggestions, standings=each, why_not=told(error, book.unit))
    now = [s for s in book.steps if s.change in SIZE_CHANGES and s.on]
    done = [(s.change, dict(s.params)) for s in now] == [(step.change, dict(step.params))]
    return Sizing(suggestions=suggestions, standings=each, step=step, done=done)


def size_edit(book: Workbook) -> dict[str, Any]:
    """Return the edit, as plain data, that cuts the pattern in the suggested size.

    Raises BadInput when no size is suggested.
    """
    sizing = sizing_of(book)
    if sizing is None or sizing.step is None:
        why = "" if sizing is None else sizing.why_not
        raise BadInput(
            what=why or "there is nothing to suggest a size from",
            expected="measurements, a size chart, and a pattern in several sizes",
        )
    return step_edit(book, sizing.step)


def step_edit(book: Workbook, step: Step) -> dict[str, Any]:
    """Return the edit, as plain data, that puts a change of size first, in place of older ones."""
    params = dict(step.params)
    add = {"edit": "add-change", "kind": step.change, "params": params, "why": step.why, "at": 1}
    old = [n for n, s in enumerate(book.steps, start=1) if s.change in SIZE_CHANGES]
    if not old:
        return add
    out = [{"edit": "remove-change", "change": str(n)} for n in reversed(old)]
    return {"edit": "several", "edits": [*out, add], "words": "Another size by the size chart"}


def _step(book: Workbook, chart: SizeChart, suggestions: tuple[Suggestion, ...]) -> Step:
    """Return the change for the pattern's pieces. Raises CannotDo, BadInput with the reason."""
    sizes = book.bought.sizes
    if sizes is None:
        raise BadInput(
            what="the pieces of this workbook came in one size, so there is none to choose",
            try_="changes of your own where that size and you differ",
        )
    if not suggestions:
        raise BadInput(
            what="no bust, hip or waist measurement yet",
            expected="one of them, measured and in the chart",
        )
    places = _level_places(book, chart, sizes, suggestions)
    _within(book, chart, sizes, (*(s.standing for s in suggestions), *places.values()))
    texts = {level: size_text(place, sizes.names) for level, place in places.items()}
    main = size_text(suggestions[0].standing, sizes.names)
    whole = {name: _loose_size(book, name, texts, main) for name in _without_level(sizes, texts)}
    every = {**texts, **whole}
    if len(set(every.values()) | (set() if every else {main})) <= 1:
        size = next(iter(every.values()), main)
        step = Step(change="choose-size", params={"size": size}, why="by the size chart")
    else:
        at = ", ".join(f"{place} {size}" for place, size in every.items())
        step = Step(change="blend-sizes", params={"at": at}, why="by the size chart")
    kind = change_of(step.change)
    kind.apply(book.bought, read_params(kind.params, step.params, unit=book.unit, where=""))
    return step


def _level_places(
    book: Workbook, chart: SizeChart, sizes: SizeRange, suggestions: tuple[Suggestion, ...]
) -> dict[str, Standing]:
    """Return where the wearer stands at each level that the pattern, the chart and she have."""
    body = book.body.figures()
    by_level = {"bust": "upper", "hip": "lower"}
    chosen = {s.kind: s.standing for s in suggestions}
    places: dict[str, Standing] = {}
    for level in dict.fromkeys(lv.name for p in sizes.pieces[0] for lv in p.levels):
        measure = LEVELS.get(level, "")
        place: Standing | None = None
        if by_level.get(level) in chosen:
            place = chosen["upper" if level == "bust" else "lower"]
        elif measure in body:
            place = standing(chart, measure, body[measure])
        if place is not None:
            places[level] = place
    return places


def _within(
    book: Workbook, chart: SizeChart, sizes: SizeRange, places: tuple[Standing, ...]
) -> None:
    """Raise BadInput when the wearer is outside the chart or the pattern's sizes anywhere."""
    found = (_outside(p, chart, sizes, book.unit) for p in places)
    said = [words for words in dict.fromkeys(found) if words]
    if said:
        raise BadInput(
            what=f"no size is chosen: {'; '.join(said)}",
            try_="a chart and pattern that go so far, or choose the nearest size yourself and "
            "alter the pieces there by changes of your own",
        )


def _outside(place: Standing, chart: SizeChart, sizes: SizeRange, unit: Unit) -> str:
    """Return by how much a measurement is outside, in words; "" when it is within."""
    name = measure_of(place.measure).name
    if place.beyond:
        return _over(name, place.beyond, unit, f"size {place.low}", "chart")
    size = size_text(place, sizes.names)
    try:
        sizes.position(size)
    except ClothwrightError as error:
        for end, text in ((sizes.names[0], "smallest"), (sizes.names[-1], "largest")):
            figure = chart.value(place.row, end) if end in chart.sizes else None
            over = 0.0 if figure is None else place.mm - figure
            if (over < 0) == (text == "smallest") and over:
                return _over(name, over, unit, f"size {end} (you are {place.words})", "pattern")
        why = told(error, unit)
        return f"{name} is {place.words} of the chart, and {why[:1].lower()}{why[1:]}"
    return ""


def _over(name: str, over: float, unit: Unit, size: str, of: str) -> str:
    side, end = ("more", "largest") if over > 0 else ("less", "smallest")
    return f"{name} is {show_length(abs(over), unit)} {side} than {size}, the {of}'s {end}"


def _without_level(sizes: SizeRange, texts: dict[str, str]) -> list[str]:
    """Return the pieces that have none of the levels with a size."""
    return [p.name for p in sizes.pieces[0] if not any(lv.name in texts for lv in p.levels)]


def _loose_size(book: Workbook, name: str, texts: dict[str, str], main: str) -> str:
    """Return the size of a piece without a level: that of the level nearest to where it is sewn."""
    nearest: tuple[float, str] | None = None
    for seam in book.bought.seams:
        for here, there in ((seam.a, seam.b), (seam.b, seam.a)):
            if all(r.piece != name for r in here):
                continue
            for ref in there:
                piece = book.bought.piece(ref.piece)
                for distance, size in _from_levels(piece, ref.edge, texts):
                    if nearest is None or distance < nearest[0]:
                        nearest = (distance, size)
    return main if nearest is None else nearest[1]


def _from_levels(piece: Piece, edge: str, texts: dict[str, str]) -> list[tuple[float, str]]:
    """Return how far the middle of an edge is from each level, mm, with the level's size."""
    path = piece.edge(edge).path
    middle = path.point_at(path.length / 2)
    return [
        (abs(piece.up.dot(middle - lv.at)), texts[lv.name])
        for lv in piece.levels
        if lv.name in texts
    ]
