"""Leave a seam open for a zip, from one of its ends or in the middle of its length."""

from __future__ import annotations

from dataclasses import dataclass, replace

from clothwright.changes.change import Change, Outcome
from clothwright.changes.part_open import ENDS, PartOpened, end_of, lining_open, part_opened
from clothwright.errors import CannotDo
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.units.params import param
from clothwright.words import AtLeast, Sentence, listed

LEAST_ALLOWANCE_MM = 15.875
"""mm of allowance in the seam of a zip: 5/8 in (Nebraska EC73-422); less is pieced with a strip."""
HIDDEN_MM = 38.1
"""mm that an invisible zip's tape is longer than what it opens: 1 1/2 in (docs/sources.md)."""
STOP_MM = 3.175
"""mm below the seam line at which the top stop lies: 1/8 in (docs/sources.md)."""
STYLES = {"centred": "centred", "lapped": "lapped on one side", "hidden": "invisible"}


@dataclass(frozen=True, slots=True, kw_only=True)
class SetZip:
    """The seam, how far it opens, from which end, and the kind of zip."""

    seam: str = param("seam", "side, centre back or front", label="In which seam")
    length: float = param(
        "length",
        "from the seam line at the end where it opens",
        label="How long is the opening",
        least=0.0,
    )
    end: str = param("choice", "", default="", choices=ENDS, label="From which end")
    style: str = param("choice", "", default="centred", choices=STYLES, label="Which zip")


def apply(pattern: Pattern, params: SetZip) -> Outcome:
    """Sew the seam up to the opening only, and let both edges of the opening be one closing.

    The teeth are as long as the opening less 1/8 in for the top stop; an invisible zip's tape is
    1 1/2 in longer than what it opens. Raises CannotDo where the allowance is under 5/8 in, or the
    seam is no longer than the opening; BadInput for no length.
    Source: docs/sources.md (openings).
    """
    seam = pattern.seam(params.seam)
    for ref in seam.refs:
        if pattern.edge(ref).allowance < LEAST_ALLOWANCE_MM - 1e-6:
            raise CannotDo(
                what=f"a zip cannot be set in seam {seam.name}",
                why=("its allowance is ", pattern.edge(ref).allowance, f" on {ref.piece}"),
                nearest=("an allowance of ", AtLeast(LEAST_ALLOWANCE_MM), ": set it first"),
            )
    params = replace(params, end=end_of(pattern, params.seam, params.end))
    low = params.end == "lower"
    opened = part_opened(pattern, params.seam, params.length, low=low, called="opening")
    one, other = (opened.parts * 2)[:2]
    closing = Seam(
        name=f"{seam.name} opening",
        a=(one.ref(opened.at_end),),
        b=(other.ref(opened.at_end),),
        kind="closure",
        zip=params.length - (0.0 if params.style == "hidden" else STOP_MM),
    )
    after = replace(opened.pattern, seams=(*opened.pattern.seams, closing))
    return Outcome(pattern=after, said=_said(params, opened), trail=opened.trail)


def _said(params: SetZip, opened: PartOpened) -> Sentence:
    names = listed(list(dict.fromkeys(p.piece for p in opened.parts)))
    said: Sentence = (
        f"Left seam {params.seam} open by ",
        params.length,
        f" from its {params.end} end for a zip, {STYLES[params.style]}, on {names}",
    )
    if params.style == "hidden":
        said = (*said, ": buy one ", params.length + HIDDEN_MM, " long or longer.")
    else:
        said = (*said, ": its teeth are ", params.length - STOP_MM, " long or less.")
    return (*said, *lining_open(opened))


CHANGE = Change(
    id="set-zip",
    title="Leave an opening for a zip",
    topic="fullness and openings",
    why="The garment has to open far enough to be stepped into: to where it is as wide as what has "
    "to pass.",
    source="docs/sources.md: openings (allowance, stop, tape)",
    params=SetZip,
    apply=apply,
)
