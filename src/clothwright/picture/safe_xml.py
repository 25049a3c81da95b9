"""XML from anywhere, read without following anything it points to; every element knows its line."""

from __future__ import annotations

from dataclasses import dataclass
from xml.etree import ElementTree as ET
from xml.parsers import expat

from clothwright.errors import BadInput

LARGEST = 50_000_000
"""Bytes: a drawing larger than this is refused."""
LONGEST_ENTITY = 200
"""Letters an entity may stand for; some drawing programs shorten long addresses by one."""
DEEPEST = 200
"""How many elements may stand inside each other."""
MOST_REFERENCES = 10_000
"""How often "&" may stand in a drawing that defines entities, so that nothing can grow by them."""


@dataclass(frozen=True, slots=True)
class PlacedXml:
    """An XML document and the line (from 1) on which each element starts."""

    root: ET.Element
    lines: dict[ET.Element, int]


def placed_xml(data: bytes, where: str) -> PlacedXml:
    """Parse XML, and tell the line of every element. Raises BadInput that names file and line.

    A DOCTYPE (older drawing programs write one) and entities that stand for a short plain text are
    let through; entities made of others, or of something outside the file, are refused.
    """
    if len(data) > LARGEST:
        raise BadInput(
            where=where,
            what=f"the drawing has {len(data) / 1e6:.0f} million bytes",
            expected=f"at most {LARGEST / 1e6:.0f}",
            try_="leaving pictures out of it",
        )
    if not data.strip():
        raise BadInput(where=where, what="the file is empty", expected="an SVG drawing")
    try:
        return _Parsing(where, data).run(data)
    except expat.ExpatError as error:
        reason = expat.errors.messages.get(error.code, str(error))
        raise BadInput(
            where=f"{where}, line {error.lineno}, column {error.offset + 1}",
            what=f"this is not well-formed XML ({reason})",
            expected="an SVG drawing",
        ) from None
    except (ValueError, LookupError, RecursionError) as error:
        raise BadInput(
            where=where, what=f"this cannot be read as text ({error})", expected="an SVG drawing"
        ) from None


class _Parsing:
    """One run of the parser."""

    def __init__(self, where: str, data: bytes) -> None:
        self.where = where
        self.references = data.count(b"&")
        self.builder = ET.TreeBuilder()
        self.lines: dict[ET.Element, int] = {}
        self.depth = 0
        self.parser = expat.ParserCreate(namespace_separator="}")
        self.parser.buffer_text = True
        self.parser.ordered_attributes = True
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end
        self.parser.CharacterDataHandler = self.builder.data
        self.parser.EntityDeclHandler = self._entity

    def run(self, data: bytes) -> PlacedXml:
        self.parser.Parse(data, True)
        return PlacedXml(self.builder.close(), self.lines)

    def _start(self, tag: str, listed: list[str]) -> None:
        attributes = {_name(k): v for k, v in zip(listed[::2], listed[1::2], strict=True)}
        element = self.builder.start(_name(tag), attributes)
        self.lines[element] = self.parser.CurrentLineNumber
        self.depth += 1
        if self.depth > DEEPEST:
            raise BadInput(
                where=f"{self.where}, line {self.parser.CurrentLineNumber}",
                what=f"more than {DEEPEST} elements stand inside each other",
                expected="a plain SVG drawing",
            )

    def _end(self, tag: str) -> None:
        self.builder.end(_name(tag))
        self.depth -= 1

    def _entity(
        self,
        name: str,
        is_parameter: bool,
        value: str | None,
        _base: str | None,
        system: str | None,
        _public: str | None,
        _notation: str | None,
    ) -> None:
        plain = value is not None and len(value) <= LONGEST_ENTITY and not set("&%<") & set(value)
        if plain and not is_parameter and not system and self.references <= MOST_REFERENCES:
            return
        raise BadInput(
            where=f"{self.where}, line {self.parser.CurrentLineNumber}",
            what=f'its DOCTYPE defines "{name}" in a way that is not read',
            expected="a plain SVG drawing",
            try_='saving it again as "plain SVG"',
        )


def _name(tag: str) -> str:
    return "{" + tag if "}" in tag else tag
