"""What may be wished for: shown to her, read from what she typed or pressed, in her order."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from clothwright.errors import BadInput, did_you_mean, not_known
from clothwright.pattern.piece import Role
from clothwright.pattern.refs import EdgeRef, parse_edge
from clothwright.rules.following import followed_plan
from clothwright.rules.kinds.on_border import OnBorder
from clothwright.rules.stating import outfit_of
from clothwright.rules.wishes.proposing import own_wish, proposed
from clothwright.rules.wishes.wish import Wish
from clothwright.units import Unit, parse_length
from clothwright.words import begun, edge_name, refs_name, say
from clothwright.workbook import Workbook, replay

MOST_WISHES = 24
"""More wishes than these nobody puts in order."""


def wishes_of(book: Workbook) -> tuple[Wish, ...]:
    """Return what may be wished for of pieces and prints, what matters most first."""
    if not (book.bought.pieces and book.cloths):
        return ()
    pattern = replay(book).pattern
    plans = tuple(followed_plan(p, pattern) for p in book.plans)
    outfit = outfit_of(pattern, book.cloths, followed_plan(book.plan(), pattern))
    return proposed(outfit, plans, book.plan().name, book.unit)


def mine_of(book: Workbook) -> tuple[Wish, ...]:
    """Return the wishes of a workbook, what matters most first: its own, else the usual ones.

    One whose pieces or print are no more is left out (`Wishing.lost`).
    """
    return tuple(wish for _, wish in _mine(book, wishes_of(book)))


def wished(book: Workbook, texts: Sequence[str]) -> tuple[Wish, ...]:
    """Return the wishes that texts say, in their order; without any, those of the workbook.

    Raises BadInput for one that is neither the name of a wish nor edges for a border.
    """
    if len(texts) > MOST_WISHES:
        raise BadInput(
            where="--wish",
            what=f"{len(texts)} wishes are too many",
            expected=f"at most {MOST_WISHES}",
        )
    known = wishes_of(book)
    found = [_wish(text, known, book) for text in texts]
    return tuple({w.name: w for w in found}.values()) or mine_of(book)


def moved(book: Workbook, name: str, to: str) -> tuple[str, ...]:
    """Return what the workbook has for her wishes, with one of them elsewhere. Raises BadInput.

    to: "up", "down", "out", or "in" behind the others.
    """
    if to not in ("up", "down", "in", "out"):
        raise BadInput(where="wishes", what=f'"{to}" is no way to move', expected="up or down")
    known = wishes_of(book)
    mine = _mine(book, known)
    texts, names = [text for text, _ in mine], [wish.name for _, wish in mine]
    if to == "in":
        new = _wish(name, known, book)
        return tuple(texts) if new.name in names else (*texts, name)
    if name not in names:
        raise not_known(f'you have no wish "{name}"', name, names)
    at = names.index(name)
    text = texts.pop(at)
    if to != "out":
        texts.insert(max(0, at - 1) if to == "up" else at + 1, text)
    return tuple(texts)


def _mine(book: Workbook, known: Sequence[Wish]) -> tuple[tuple[str, Wish], ...]:
    """Return her wishes, each with the text that the workbook has for it."""
    own = tuple((text, w) for text in book.wishes for w in _found(text, known, book))
    return own or tuple((w.name, w) for w in known if w.usual)


def _found(text: str, known: Sequence[Wish], book: Workbook) -> tuple[Wish, ...]:
    try:
        return (_wish(text, known, book),)
    except BadInput:
        return ()


def _wish(text: str, known: Sequence[Wish], book: Workbook) -> Wish:
    if "=" in text:
        return parse_wish(text, book)
    name = text.strip().casefold()
    for wish in known:
        if wish.name.casefold() == name:
            return wish
    raise not_known(f'there is no wish "{text.strip()}"', text.strip(), [w.name for w in known])


# --- as she reads them ----------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownWish:
    """A wish in her unit. ways: how it can be had, where there is a choice."""

    name: str
    words: str
    why: str
    ways: tuple[str, ...]
    usual: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishing:
    """What she wishes for, what matters most first; what else there is; what is there no more.

    own: she has put them together herself; else they are the usual ones.
    """

    mine: tuple[ShownWish, ...]
    others: tuple[ShownWish, ...]
    lost: tuple[str, ...]
    own: bool


def wishing_of(book: Workbook) -> Wishing:
    """Return the wishes of a workbook as she reads them."""
    known = wishes_of(book)
    mine = [wish for _, wish in _mine(book, known)]
    names = {w.name for w in mine}
    return Wishing(
        mine=shown(mine, book),
        others=shown([w for w in known if w.name not in names], book),
        lost=tuple(text for text in book.wishes if not _found(text, known, book)),
        own=bool(book.wishes),
    )


def shown(wishes: Sequence[Wish], book: Workbook) -> tuple[ShownWish, ...]:
    """Return wishes in whole sentences."""
    return tuple(
        ShownWish(
            name=w.name,
            words=begun(say((*w.words, "."), book.unit)),
            why=say(w.why, book.unit),
            ways=_ways(w, book.unit),
            usual=w.usual,
        )
        for w in wishes
    )


def _ways(wish: Wish, unit: Unit) -> tuple[str, ...]:
    """Return in what ways a wish can be had, where she has a choice."""
    ways = tuple(dict.fromkeys(say(g.how, unit) for g in wish.grants if g.how))
    return ways if len(ways) > 1 else ()


# --- edges on a border ----------------------------------------------------------------------------


def parse_wish(text: str, book: Workbook) -> Wish:
    """Read "NAME = PIECE.EDGE, PIECE.EDGE on BORDER above LENGTH". Raises BadInput.

    "on BORDER" may be left out when the workbook's cloths have one border; "above" means 0.
    """
    name, equals, rest = text.partition("=")
    found = re.fullmatch(r"\s*(.+?)(?:\s+on\s+(.+?))?(?:\s+above\s+(.+?))?\s*", rest)
    if not equals or not name.strip() or not found:
        raise BadInput(
            where="--wish",
            what=f'"{text}" is no wish',
            expected="a name and its edges, such as `skirt hem = skirt front.hem, skirt back.hem`",
        )
    border = _border(found.group(2) or "", book)
    above = parse_length(found.group(3), unit=book.unit, where="--wish") if found.group(3) else 0.0
    refs = [parse_edge(part, where="--wish") for part in found.group(1).split(",")]
    for ref in refs:
        book.bought.edge(ref)
    rules = tuple(OnBorder(piece=r.piece, edge=r.edge, border=border, above=above) for r in refs)
    where = refs_name([(r.piece, r.edge) for r in refs])
    said = (
        f"{where}: along the {border}",
        *((", ", above, " above its lower line") if above else ()),
    )
    return replace(own_wish(rules, (name.strip(),), unit=book.unit), words=said)


def borders_of(book: Workbook) -> tuple[str, ...]:
    """Return the names of every border of the workbook's cloths."""
    return tuple(b.name for c in book.cloths for b in c.print.borders)


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeOffer:
    """An edge that may be wished onto a border. ref: to choose it by, not shown."""

    ref: str
    words: str


def edges_to_wish(book: Workbook) -> tuple[EdgeOffer, ...]:
    """Return the edges of every piece that is cut from a cloth with a border, hems first."""
    printed = {c.material for c in book.cloths if c.print.borders}
    mine = [p for p in book.bought.pieces if any(c.material in printed for c in p.cuts)]
    edges = sorted(((p, e) for p in mine for e in p.edges), key=lambda o: o[1].role is not Role.HEM)
    return tuple(
        EdgeOffer(ref=str(EdgeRef(p.name, e.name)), words=edge_name(p.name, e.name))
        for p, e in edges
    )


def border_wish(book: Workbook, edges: Sequence[str], *, name: str, border: str, above: str) -> str:
    """Return the wish that these edges (`EdgeOffer.ref`) lie on a border, as text. Raises BadInput.

    name: "" for one made of the edges. border: "" for the only one. above: how far above its lower
    line, as typed; "" means on it.
    """
    words = [edge_name(r.piece, r.edge) for r in (parse_edge(e) for e in edges)]
    text = f"{(name or ', '.join(words)).replace('=', ' ')} = {', '.join(edges)}"
    text += f" on {border}" if border else ""
    text += f" above {above}" if above.strip() else ""
    parse_wish(text, book)
    return text


def _border(name: str, book: Workbook) -> str:
    known = borders_of(book)
    if name in known:
        return name
    if not name and len(known) == 1:
        return known[0]
    raise BadInput(
        where="--wish",
        what=f'no cloth has a border "{name}".{did_you_mean(name, known)}'
        if name
        else "it does not say which border",
        expected="on " + " or ".join(known) if known else "a cloth with a border",
    )
