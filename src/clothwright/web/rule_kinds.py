"""The kinds of placing rules a maker chooses from, and what each is asked for."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """One thing a rule is asked for. what: a key of CHOICES, "length", "angle", "flag", "pieces".

    only: "along" or "across", for what makes sense where a cloth repeats that way alone.
    """

    name: str
    label: str
    what: str
    help: str = ""
    must: bool = False
    only: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """One kind of rule as a maker chooses it. rule: the kind of placing rule it becomes."""

    id: str
    rule: str
    title: str
    help: str
    asks: tuple[Ask, ...]
    repeats: bool = False
    """It needs a cloth whose print repeats."""


ABOVE = Ask(
    name="above",
    label="How far above its lower line",
    what="length",
    help="left empty: on the line itself",
)
BY = Ask(
    name="by", label="By how much at least", what="length", help="left empty: just clear of it"
)
MATCH = Ask(name="match", label="The print meets", what="match", must=True)
POINT = Ask(name="point", label="Which point", what="point", must=True)
BORDER = Ask(name="border", label="Which border", what="border", must=True)

KINDS: tuple[Kind, ...] = (
    Kind(
        id="on-border",
        rule="on-border",
        title="A hem or edge on a border",
        help="The edge's stitching line, or the fold of its hem, lies along the border.",
        asks=(
            Ask(name="edge", label="Which edge", what="edge", must=True),
            BORDER,
            ABOVE,
            Ask(name="upside_down", label="The piece lies upside down on it", what="flag"),
        ),
    ),
    Kind(
        id="meets-seam",
        rule="meets",
        title="The print meets across a seam",
        help="Two points that are sewn together lie at the same place of the repeat.",
        asks=(
            Ask(name="seam", label="At which point of which seam", what="seam point", must=True),
            MATCH,
        ),
        repeats=True,
    ),
    Kind(
        id="meets",
        rule="meets",
        title="The print meets at two points",
        help="For what is laid on another piece and not in a seam, such as a pocket.",
        asks=(
            Ask(name="a", label="A point of one piece", what="point a", must=True),
            Ask(name="b", label="The point it comes to lie on", what="point b", must=True),
            MATCH,
        ),
        repeats=True,
    ),
    Kind(
        id="on-axis",
        rule="at-phase",
        title="A point on a mirror line of the print",
        help="The centre front on the middle of the figure, for example.",
        asks=(
            POINT,
            Ask(name="axis", label="Which mirror line", what="axis", must=True),
            Ask(name="copies", label="This holds for", what="copies", must=True),
        ),
    ),
    Kind(
        id="at-phase",
        rule="at-phase",
        title="A point at a place of the repeat",
        help="Counted from where the repeat begins; say it along the cloth, across it, or both.",
        asks=(
            POINT,
            Ask(name="along", label="Into the repeat, along", what="length", only="along"),
            Ask(name="across", label="Into the repeat, across", what="length", only="across"),
            Ask(name="copies", label="This holds for", what="copies", must=True),
        ),
        repeats=True,
    ),
    Kind(
        id="mirrored",
        rule="mirrored",
        title="A pair that mirrors each other's print",
        help="Left and right show the same figure, one turned over.",
        asks=(
            Ask(name="point", label="Seen at which point", what="point of a pair", must=True),
            Ask(name="way", label="Mirrored about", what="way", must=True),
        ),
    ),
    Kind(
        id="clear",
        rule="clear",
        title="A point clear of a figure",
        help="So that no large flower lies on the point of the bust, for example.",
        asks=(POINT, Ask(name="figure", label="Which figure", what="figure", must=True), BY),
    ),
    Kind(
        id="keep-off",
        rule="keep-off",
        title="A piece off a border",
        help="The whole piece, allowance included, lies beside the border.",
        asks=(
            Ask(name="piece", label="Which piece", what="printed piece", must=True),
            BORDER,
            BY,
        ),
    ),
    Kind(
        id="one-way",
        rule="one-way",
        title="All tops one way",
        help="For nap, pile, shine, or a print with a top.",
        asks=(Ask(name="pieces", label="These pieces; none ticked: every piece", what="pieces"),),
    ),
    Kind(
        id="on-grain",
        rule="on-grain",
        title="A piece on another grain, or tilted",
        help="Off the grain cloth hangs otherwise; a little tilt may save length.",
        asks=(
            Ask(name="piece", label="Which piece", what="piece", must=True),
            Ask(name="grain", label="It lies", what="grain", must=True),
            Ask(
                name="tilt_deg",
                label="Tilted by up to, in degrees",
                what="angle",
                help="0 to 45; left empty: exactly so",
            ),
        ),
    ),
    Kind(
        id="cut-from",
        rule="cut-from",
        title="A piece from another cloth",
        help="A facing from the lining cloth, for example.",
        asks=(
            Ask(name="cut", label="Which piece", what="cut", must=True),
            Ask(name="cloth", label="From which cloth", what="cloth", must=True),
        ),
    ),
)
"""Every kind a maker chooses from. Folds and pins have places of their own."""


def kind_of(name: str) -> Kind | None:
    """Return a kind by its name, if there is one."""
    return next((k for k in KINDS if k.id == name), None)
