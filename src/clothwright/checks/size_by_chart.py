"""Which size a chart gives the wearer at each level of a pattern, and of each piece without one."""

from __future__ import annotations

from collections.abc import Mapping

from clothwright.body.chart import SizeChart
from clothwright.body.ease import LEVELS
from clothwright.body.measures import measure_of
from clothwright.body.suggest import Kind, Standing, Suggestion, size_text, standing
from clothwright.errors import BadInput, ClothwrightError
from clothwright.pattern.pattern import Pattern
from clothwright.pattern.piece import Piece
from clothwright.pattern.sizes import SizeRange
from clothwright.units import Unit
from clothwright.words import show_length, told, within


def kinds_of(pattern: Pattern) -> tuple[Kind, ...]:
    """Return what kinds of garment a pattern is by its levels; both when they do not tell."""
    levels = {lv.name for p in pattern.pieces for lv in p.levels}
    upper = bool(levels & {"bust", "biceps"})
    lower = "hip" in levels or ("waist" in levels and not upper)
    kinds: tuple[Kind, ...] = ("upper",) if upper else ()
    kinds += ("lower",) if lower else ()
    return kinds or ("upper", "lower")


def sizes_by_chart(
    pattern: Pattern,
    sizes: SizeRange,
    body: Mapping[str, float],
    chart: SizeChart,
    suggestions: tuple[Suggestion, ...],
    *,
    unit: Unit,
) -> tuple[dict[str, str], str]:
    """Return the size by level and by piece without one, and the size of the whole, as text.

    body: her measurements, mm, by their ids. suggestions: one at least. Raises BadInput when she is
    outside the chart or the pattern's sizes anywhere.
    """
    places = _level_places(body, chart, sizes, suggestions)
    _within(chart, sizes, (*(s.standing for s in suggestions), *places.values()), unit)
    texts = {level: size_text(place, sizes.names) for level, place in places.items()}
    main = size_text(suggestions[0].standing, sizes.names)
    loose = _without_level(sizes, texts)
    return {**texts, **{name: _loose_size(pattern, name, texts, main) for name in loose}}, main


def _level_places(
    body: Mapping[str, float],
    chart: SizeChart,
    sizes: SizeRange,
    suggestions: tuple[Suggestion, ...],
) -> dict[str, Standing]:
    """Return where the wearer stands at each level that the pattern, the chart and she have."""
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


def _within(chart: SizeChart, sizes: SizeRange, places: tuple[Standing, ...], unit: Unit) -> None:
    """Raise BadInput when the wearer is outside the chart or the pattern's sizes anywhere."""
    found = (_outside(p, chart, sizes, unit) for p in places)
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
        return f"{name} is {place.words} of the chart, and {within(why)}"
    return ""


def _over(name: str, over: float, unit: Unit, size: str, of: str) -> str:
    side, end = ("more", "largest") if over > 0 else ("less", "smallest")
    return f"{name} is {show_length(abs(over), unit)} {side} than {size}, the {of}'s {end}"


def _without_level(sizes: SizeRange, texts: dict[str, str]) -> list[str]:
    """Return the pieces that have none of the levels with a size."""
    return [p.name for p in sizes.pieces[0] if not any(lv.name in texts for lv in p.levels)]


def _loose_size(pattern: Pattern, name: str, texts: dict[str, str], main: str) -> str:
    """Return the size of a piece without a level: that of the level nearest to where it is sewn."""
    nearest: tuple[float, str] | None = None
    for seam in pattern.seams:
        for here, there in ((seam.a, seam.b), (seam.b, seam.a)):
            if all(r.piece != name for r in here):
                continue
            for ref in there:
                piece = pattern.piece(ref.piece)
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
