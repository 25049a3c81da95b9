"""As much of style sheets as a pattern needs: what is hidden, moved, painted; how large words are.

Simple selectors are read (element, #id, .class and lists of them); others are passed over.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import NamedTuple
from xml.etree import ElementTree as ET

PAINT = ("stroke", "fill", "stroke-width", "stroke-dasharray")
WANTED = ("display", "visibility", "transform", "font-size", "text-anchor", *PAINT)
_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
_SIMPLE = re.compile(r"(\*|[A-Za-z][\w-]*)?((?:[.#][\w-]+)*)")


class StyleRule(NamedTuple):
    """One simple selector and what it sets. tag, id: "" when any will do."""

    tag: str
    id: str
    classes: frozenset[str]
    sets: Mapping[str, str]


def rules_of(root: ET.Element) -> tuple[StyleRule, ...]:
    """Return the rules of all style elements, in order, that set anything wanted here."""
    found: list[StyleRule] = []
    for element in root.iter():
        if element.tag.rsplit("}", 1)[-1] != "style":
            continue
        for selectors, body in _RULE.findall(_COMMENT.sub("", "".join(element.itertext()))):
            sets = declarations(body)
            if sets:
                found += [r for s in selectors.split(",") if (r := _rule(s.strip(), sets))]
    return tuple(found)


def declarations(body: str) -> dict[str, str]:
    """Return the wanted properties of a declaration list.

    >>> declarations("cursor:help; DISPLAY : none !important")
    {'display': 'none'}
    """
    out = {}
    for part in body.split(";"):
        name, colon, value = part.partition(":")
        name = name.strip().lower()
        if colon and name in WANTED:
            out[name] = value.replace("!important", "").strip()
    return out


def _rule(selector: str, sets: Mapping[str, str]) -> StyleRule | None:
    simple = _SIMPLE.fullmatch(selector)
    if not simple or not selector:
        return None
    names = re.findall(r"([.#])([\w-]+)", simple[2])
    return StyleRule(
        tag="" if simple[1] in (None, "*") else simple[1],
        id=next((n for sign, n in names if sign == "#"), ""),
        classes=frozenset(n for sign, n in names if sign == "."),
        sets=sets,
    )


def style_of(element: ET.Element, rules: tuple[StyleRule, ...]) -> dict[str, str]:
    """Return what is wanted of the element's own style: attribute, sheet, style."""
    out = {name: value for name in WANTED if (value := element.get(name)) is not None}
    if rules:
        tag, id_ = element.tag.rsplit("}", 1)[-1], element.get("id", "")
        classes = set((element.get("class") or "").split())
        for rule in rules:
            if rule.tag in ("", tag) and rule.id in ("", id_) and rule.classes <= classes:
                out.update(rule.sets)
    out.update(declarations(element.get("style") or ""))
    return out
