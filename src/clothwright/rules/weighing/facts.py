"""What a maker weighs about a laid plan, in words: said once for cards, tables, commands, guide."""

from __future__ import annotations

from collections.abc import Iterator

from clothwright.lay.leftover import bias_yield
from clothwright.lay.result import Lay
from clothwright.rules.weighing.fact import Fact
from clothwright.rules.weighing.hems import hems_against_borders
from clothwright.rules.weighing.laid import BIAS_MM, Laid
from clothwright.rules.weighing.other_order import other_order
from clothwright.rules.weighing.print_facts import TWO_CLOTHS, print_facts
from clothwright.units import Unit
from clothwright.words import (
    is_met,
    listed,
    say,
    show_difference,
    show_length,
    show_price,
    show_run,
    show_size,
    to_buy,
)

WHOLE = "\u00a0"
"""A space that a line is not broken at."""
KEPT = "All your rules are kept."
NEAREST = "Kept as far as they go together."


def best_words(lay: Lay | None, unit: Unit) -> str:
    """Say what the best lay of a search is worth so far, lengths in `unit`."""
    if lay is None:
        return "the first lay is being made"
    if lay.unplaced:
        return f"no place yet for {', '.join(lay.unplaced)}"
    used = ", ".join(f"{n} {show_length(u, unit)}" for n, u in lay.used.items())
    if lay.short_by:
        return f"best so far {used}; short by {show_length(lay.short_by, unit)}"
    return f"best so far {used}{'; fits' if lay.fits else ''}"


def fit_and_spare(laid: Laid, unit: Unit) -> str:
    """Say whether a plan fits, and with how much to spare or to buy; lengths in `unit`."""
    if laid.faults:
        return "not to be cut by: the lay has faults"
    words = laid.fit_words(unit)
    if laid.lay.fits:
        left = [(v, f"of {n} left") for n, v in _left(laid, unit).items()]
        left = left or [(to_buy(v, unit), f"of {n} to buy") for n, v in laid.buy.items()]
        # a length is not broken at the end of a line
        words = ", ".join((words, *(f"{v.replace(' ', WHOLE)} {rest}" for v, rest in left)))
        return ". ".join((words, *(note.rstrip(".") for note in laid.compiled.notes)))
    return words if words.startswith("does not") else f"does not fit: {words}"


def facts(laid: Laid, unit: Unit, currency: str) -> tuple[Fact, ...]:
    """Return everything to weigh about one plan, lengths in `unit`, prices in `currency`."""
    return (
        Fact(label="does it fit?", words=laid.fit_words(unit)),
        *_not_laid(laid),
        *_of_cut(laid, unit),
        *_cloths(laid, unit),
        *_spare(laid, unit),
        *_rules(laid, unit),
        *print_facts(laid.meetings, unit),
        *_two_cloths(laid),
        *_other_order(laid),
        *_grain(laid),
        *_cost(laid, currency),
    )


def _two_cloths(laid: Laid) -> Iterator[Fact]:
    """Yield the seams at which the print is not compared."""
    if laid.between_cloths:
        words = f"{listed(tuple(laid.between_cloths))} ({TWO_CLOTHS})"
        yield Fact(label="print not compared at", words=words)


def _other_order(laid: Laid) -> Iterator[Fact]:
    if words := " ".join(other_order(laid)):
        yield Fact(label="order of the bars", words=words, short=True)


def _left(laid: Laid, unit: Unit) -> dict[str, str]:
    """Return what is left of each cloth in hand: a length, or of a remnant its largest rectangle.

    A ragged end is no length over the whole width.
    """
    ragged = {c.name for c in laid.cloths if c.outline is not None}
    rests = {r.region: show_size(r.along, r.across, unit) for r in laid.rests}
    return {
        name: rests.get(name, "nothing") if name in ragged else show_length(mm, unit)
        for name, mm in laid.left_over.items()
        if mm > 0
    }


def _not_laid(laid: Laid) -> Iterator[Fact]:
    if laid.compiled.notes:
        yield Fact(label="not laid", words=" ".join(laid.compiled.notes), short=True)


def _of_cut(laid: Laid, unit: Unit) -> Iterator[Fact]:
    if laid.compiled.of_cut:
        words = " ".join(say(each, unit) for each in laid.compiled.of_cut)
        yield Fact(label="what is cut", words=words, short=True)


def _cloths(laid: Laid, unit: Unit) -> Iterator[Fact]:
    """Yield what is used of each cloth, what is left of it or what is to be bought."""
    for name, used in laid.lay.used.items():
        words = f"{show_length(used, unit)} used"
        left, need = _left(laid, unit).get(name), laid.buy.get(name)
        if left:
            words += f", {left} left"
        elif need:
            words += f", {to_buy(need, unit)} to buy"
        yield Fact(label=name, words=words, short=used > 0)


def _spare(laid: Laid, unit: Unit) -> Iterator[Fact]:
    """Yield the largest rectangle left of each cloth, and the bias binding it gives."""
    for rest in laid.rests:
        words = show_size(rest.along, rest.across, unit)
        strip = bias_yield(rest.along, rest.across, BIAS_MM).pieced
        if strip > 0:
            wide = show_length(BIAS_MM, unit)
            words += f"; about {show_run(strip, unit)} of {wide} bias binding"
        yield Fact(label=f"{rest.region}: largest spare piece", words=words)


def _rules(laid: Laid, unit: Unit) -> Iterator[Fact]:
    if laid.residuals:
        gone = {rule.id for rule in laid.compiled.meant.values()}
        worst = max((mm for n, mm in laid.residuals.items() if n not in gone), default=0.0)
        missed = laid.compiled.gave_way
        kept = " ".join((NEAREST, *(say(m, unit) for m in missed))) if missed else KEPT
        words = kept if is_met(worst) else f"one is missed by {show_difference(worst, unit)}"
        if laid.lay.unplaced:
            words = f"Not known: {listed(tuple(laid.lay.unplaced))} found no place."
        yield Fact(label="your rules", words=words, short=True)
    hems = " ".join(say(words, unit) for words in hems_against_borders(laid))
    if hems:
        yield Fact(label="hems on the border", words=hems, short=True)


def _grain(laid: Laid) -> Iterator[Fact]:
    bias = laid.on_bias
    names = [n for n in laid.off_grain if n not in bias]
    yield Fact(label="cut across the grain", words=listed(names) or "nothing", short=bool(names))
    if bias:
        yield Fact(label="cut on the bias", words=listed(bias), short=True)


def _cost(laid: Laid, currency: str) -> Iterator[Fact]:
    """Yield the price of what is used or bought; what has no price is named, never left out."""
    if laid.cost is None:
        return
    used = [c for c in laid.laid_cloths if laid.lay.used[c.name] > 0]
    priced = tuple(c.name for c in used if c.price_per_m is not None)
    others = tuple(c.name for c in used if c.price_per_m is None)
    words = f"{show_price(laid.cost, currency)} for {listed(priced)}"
    if others:
        words += f" ({listed(others)} {'has' if len(others) == 1 else 'have'} no price)"
    yield Fact(label="cost", words=words, short=True)
