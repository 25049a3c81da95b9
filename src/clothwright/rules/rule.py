"""What a kind of placing rule is: its fields, its sentence, its forms, what it asks of the lay."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Any, Generic, NamedTuple, TypeVar

from clothwright.cloth.cloth import Cloth
from clothwright.errors import Said, Sentence
from clothwright.lay import problem as put
from clothwright.lay.copies import Copy
from clothwright.pattern.finding import Mend
from clothwright.rules.offers import Choice, Outfit, pieces
from clothwright.rules.plan import PlacingRule
from clothwright.rules.table import CuttingTable, Landmark
from clothwright.units.params import param

R = TypeVar("R", bound=PlacingRule)


Cloths = tuple[Cloth, ...]


class Turns(NamedTuple):
    """How a copy may lie: the turns of its grain arrow, and the tilt from each (degrees)."""

    turns_deg: tuple[float, ...]
    tilt_deg: float = 0.0


class Stance(NamedTuple):
    """How a piece is to a border by a rule: "on" it, "off" it, or it may run "into" it.

    at: of what lies on it, how far above its lower line an edge lies, mm; of what keeps off it, by
    how many mm at least.
    """

    piece: str
    border: str
    way: str
    at: float = 0.0


class Tops(NamedTuple):
    """Pieces whose tops point one way: these, or every piece, but for those that are `outside`."""

    pieces: tuple[str, ...]
    outside: tuple[str, ...] = ()

    def of(self, piece: str) -> bool:
        """Tell whether a piece is one of them."""
        return piece not in self.outside and (not self.pieces or piece in self.pieces)


class Home(NamedTuple):
    """What is to be cut: a piece in one material."""

    piece: str
    material: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """One thing a form asks for. name: of a declared field, or a name of its own.

    label, help: beside the field; left empty they are the declared field's. offer: what can be
    chosen, where that is not the list of the field's kind, and `none` what is said when there is
    nothing. fills: the fields of the rule that an own `offer` fills. must: it cannot be left empty.
    only: "along" or "across", for what makes sense where a cloth repeats that way alone. least: mm,
    what a form takes for a length, where a workbook may say less.
    """

    name: str
    field: str = ""
    label: str = ""
    help: str = ""
    offer: Callable[[Outfit], Iterable[Choice]] | None = None
    none: str = ""
    fills: tuple[str, ...] = ()
    must: bool = False
    only: str = ""
    least: float | None = None


def named(*fields: str) -> tuple[Ask, ...]:
    """Return questions for declared fields, as these say them."""
    return tuple(Ask(name=field) for field in fields)


@dataclass(frozen=True, slots=True, kw_only=True)
class Form:
    """One form in which a maker states a rule of a kind. id: it names the form on the page.

    repeats: it needs a cloth whose print repeats. least_one: fields of which one must be said;
    `lack` is the sentence when none is.
    """

    id: str
    title: str
    help: str
    asks: tuple[Ask, ...]
    repeats: bool = False
    least_one: tuple[str, ...] = ()
    lack: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Foreseen:
    """What is known of a rule before anything is laid: a whole sentence, its lengths in mm.

    mend: a change of the pieces that would make it better, None where there is none.
    """

    words: Sentence
    mend: Mend | None = None


PRINTED = Ask(
    name="piece",
    offer=lambda outfit: pieces(outfit.printed),
    none="no piece is cut from a cloth with a print",
    fills=("piece",),
)
"""A piece that is cut from a cloth with a print."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Loosened:
    """A rule that is kept, with room to be missed. way: tells it from others of the rule.

    what: in the maker's words; look: what is seen of it. Lengths in mm.
    """

    rule: PlacingRule
    way: str
    what: Sentence
    look: Sentence


def clearance() -> Any:
    """Declare by how much a rule keeps something clear, mm."""
    return param(
        "length", "left empty: just clear of it", default=0.0, label="By how much at least"
    )


def by_so_much(first: str, by: float) -> Sentence:
    """Return what a rule keeps clear, and by how many mm, where that is said."""
    return (first, " by ", by) if by else (first,)


def _nothing(rule: Any, table: CuttingTable) -> Iterator[Any]:  # noqa: ARG001
    return iter(())


def _none_looser(rule: Any) -> Iterator[Any]:  # noqa: ARG001
    return iter(())


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleKind(Generic[R]):
    """One kind of placing rule. params: a frozen dataclass declared with `units.params.param`.

    said: the rule in words, without its full stop. forms: how a maker states it, the most special
    one first; `elsewhere` says where a rule without a form is set.
    asks: the rules on shapes that it asks of the lay, and the landmarks they need; raises WrongRule
    for what these pieces and cloths do not have. foreseen: what is known before anything is laid.
    home: the cloths a piece may be cut from, given those it may be cut from without the rule and
    every cloth there is. turns: how a copy on a cloth may lie, None when the rule says nothing of
    it; of several rules that speak, the one with the least `rank` counts, and `turned_by` is the
    field that says so. tops: the pieces whose tops it has point one way, and those that may lie
    otherwise, on cloth with a nap too. stance: what it says of a piece and a border.
    places: it says where across its cloth a piece lies, and is asked before the rules on what is
    printed there.
    on_print: it is about the print, so cloth without that print sets the piece free.
    loosened: the rule with room to be missed, where it has none.
    dropped: what leaving the rule out means, and what it costs in look; None where that is no
    choice. divides: a piece cut in two leaves it standing for its parts. against: tells whether two
    rules of the kind cannot both hold.
    """

    id: str
    params: type[R]
    said: Callable[[R], Sentence]
    forms: tuple[Form, ...] = ()
    elsewhere: str = ""
    asks: Callable[[R, CuttingTable], Iterable[put.Rule | Landmark]] = _nothing
    foreseen: Callable[[R, CuttingTable], Iterable[Foreseen]] = _nothing
    home: Callable[[R, Home, Cloths, Cloths], Cloths] | None = None
    turns: Callable[[R, Copy, Cloth], Turns | None] | None = None
    rank: int = 9
    turned_by: str = ""
    tops: Callable[[R], Tops] | None = None
    stance: Callable[[R], Stance] | None = None
    places: bool = False
    on_print: bool = False
    loosened: Callable[[R], Iterable[Loosened]] = _none_looser
    dropped: Callable[[R], tuple[Said, Said]] | None = None
    divides: bool = True
    against: Callable[[R, R], bool] | None = None
