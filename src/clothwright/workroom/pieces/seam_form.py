"""What a seam is asked in a form, and what was typed there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from clothwright.intake.seams.ends import edge_beyond
from clothwright.intake.seams.said import SeamSaid
from clothwright.pattern.fullness import fuller
from clothwright.pattern.measure import side
from clothwright.pattern.pattern import Pattern, Seam
from clothwright.pattern.walk import mark_names
from clothwright.units import Unit
from clothwright.words import show_length

JOINS = {
    "eased": "as they are, or eased",
    "stretched": "the shorter is stretched",
    "gathered": "the longer is gathered",
    "pleated": "the longer is laid in pleats",
    "tucked": "the longer is taken up in tucks",
    "elasticated": "the longer is drawn in by elastic",
}
LIES = {
    "": "it does not matter",
    "start": "towards {start}",
    "end": "towards {end}",
    "box": "in pairs away from each other (box)",
    "inverted": "in pairs towards each other (inverted)",
}
KINDS = {
    "plain": "two edges sewn together",
    "cap": "a sleeve set into its armhole",
    "facing": "a facing",
    "lining": "a lining",
    "closure": "a fastening",
    "hem": "a hem",
}
Choices = tuple[tuple[str, str, bool], ...]
"""What may be chosen: its key, its words, whether it is chosen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamForm:
    """What a form asks of a seam, filled in; lengths as text in the maker's unit.

    starts, ends: the marks of the longer side. more: something beside the ease is said.
    """

    name: str
    by: str
    up_to: str
    folds: str
    zip: str
    joins: Choices
    starts: Choices
    ends: Choices
    lies: Choices
    kinds: Choices
    more: bool


def seam_form(pattern: Pattern, seam: Seam, unit: Unit) -> SeamForm:
    """Return the form of a seam, lengths in `unit`."""
    run = fuller(seam)
    marks = mark_names(side(pattern, run))
    start = f"its start, at the {edge_beyond(pattern, run[0], at_end=False)}"
    end = f"its end, at the {edge_beyond(pattern, run[-1], at_end=True)}"
    lies = {key: words.format(start=start, end=end) for key, words in LIES.items()}
    said = (seam.join, seam.ease_from, seam.ease_to) != ("eased", "", "")
    return SeamForm(
        name=seam.name,
        by=show_length(abs(seam.ease), unit) if seam.ease else "",
        up_to=show_length(abs(seam.eased_max), unit) if seam.eased_max else "",
        folds=str(seam.folds or ""),
        zip=show_length(seam.zip, unit) if seam.zip else "",
        joins=_choices(JOINS, seam.join),
        starts=_choices({"": start} | _mark_words(marks), seam.ease_from),
        ends=_choices({"": end} | _mark_words(marks), seam.ease_to),
        lies=_choices(lies, seam.fold_to),
        kinds=_choices(KINDS, seam.kind),
        more=said or bool(seam.eased_max or seam.zip),
    )


def _mark_words(names: tuple[str, ...]) -> dict[str, str]:
    return {n: n if n.startswith("notch ") else f'notch "{n}"' for n in names}


def _choices(known: Mapping[str, str], chosen: str) -> Choices:
    return tuple((key, words, key == chosen) for key, words in known.items())


def said_in(fields: Mapping[str, str]) -> SeamSaid:
    """Return what was typed in a form: fields as `SeamSaid` has them, but "ease" for `by`."""
    texts = ("name", "join", "up_to", "start", "end", "folds", "fold_to", "zip", "kind")
    typed = {name: fields[name] for name in texts if name in fields}
    typed |= {"by": fields["ease"]} if "ease" in fields else {}
    return SeamSaid(turn=bool(fields.get("turn")), **typed)
