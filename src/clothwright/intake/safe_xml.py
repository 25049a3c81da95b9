"""XML from anywhere, read without following anything it points to."""

from __future__ import annotations

from xml.etree import ElementTree as ET

from clothwright.errors import BadInput

LARGEST = 50_000_000
"""Bytes: a drawing larger than this is refused."""


def safe_xml(data: bytes, where: str) -> ET.Element:
    """Parse XML. Raises BadInput, also for documents that define entities of their own.

    A DOCTYPE without definitions (older drawing programs write one) is let through.
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
    lowered = data.lower()
    if b"<!entity" in lowered or (
        b"<!doctype" in lowered.split(b"<svg", 1)[0]
        and b"[" in (lowered.split(b"<!doctype", 1)[1].split(b">", 1)[0])
    ):
        raise BadInput(
            where=where,
            what="the drawing has a DOCTYPE with definitions of its own, which is not read",
            expected="a plain SVG drawing",
            try_='saving it again as "plain SVG"',
        )
    try:
        return ET.fromstring(data)
    except ET.ParseError as error:
        line, column = error.position
        raise BadInput(
            where=f"{where}, line {line}, column {column + 1}",
            what=f"this is not well-formed XML ({str(error).split(':')[0]})",
            expected="an SVG drawing",
        ) from None
    except (ValueError, LookupError) as error:
        raise BadInput(
            where=where, what=f"this cannot be read as text ({error})", expected="an SVG drawing"
        ) from None
