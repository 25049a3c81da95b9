"""What differs between a thing as it was and as it is, said in the maker's words."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from clothwright.words import Sentence, show_fraction

Way = Callable[[Any, Any], Sentence]
"""Says a field by the name the maker has for it, from its value before and its value now."""


def length(label: str, none: str = "") -> Way:
    """Say a length (mm); `none` when there is none.

    >>> length("width")(20.0, 25.4), length("length", "length still to buy")(25.4, None)
    (('width ', 25.4), ('length still to buy',))
    """
    return lambda _, mm: (none or f"no {label}",) if mm is None else (f"{label} ", float(mm))


def share(label: str) -> Way:
    """Say a share (0.05) in percent."""
    return lambda _, value: (f"{label} {show_fraction(value)}",)


def text(label: str) -> Way:
    """Say a text; "no note" when it is empty."""
    return lambda _, value: (f'{label} "{value}"' if value else f"no {label}",)


def either(yes: str, no: str) -> Way:
    """Say one of two things."""
    return lambda _, value: (yes if value else no,)


def other(label: str) -> Way:
    """Say only that it is another one."""
    return lambda _was, _now: (label,)


def named(kind: str, ways: Mapping[str, Way]) -> Way:
    """Say which of several named things came, went or differ, and how."""

    def say(was: Sequence[Any], now: Sequence[Any]) -> Sentence:
        old, new = {x.name: x for x in was}, {x.name: x for x in now}
        parts: list[Sentence] = [(f'{kind} "{n}" added',) for n in new if n not in old]
        parts += [(f'{kind} "{n}" removed',) for n in old if n not in new]
        for name, one in new.items():
            told = differing(old[name], one, ways) if name in old else ()
            if told:
                parts.append((f'{kind} "{name}": ', *told))
        return joined_by(parts, "; ") or (f"other order of each {kind}",)

    return say


def within(ways: Mapping[str, Way]) -> Way:
    """Say what differs inside a part of a thing."""
    return lambda was, now: differing(was, now, ways)


def differing(was: Any, now: Any, ways: Mapping[str, Way]) -> Sentence:
    """Return what differs between two values of one class, as a sentence without its full stop.

    ways: how each field is said.
    """
    both = ((way, getattr(was, name), getattr(now, name)) for name, way in ways.items())
    return joined_by([way(a, b) for way, a, b in both if a != b], ", ")


def joined_by(parts: Sequence[Sentence], between: str) -> Sentence:
    """Return sentences as one, with something between them."""
    out: Sentence = ()
    for part in parts:
        out = (*out, between, *part) if out else part
    return out
