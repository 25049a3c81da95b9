"""Words as they stand in a drawing's XML.

As `xml.sax.saxutils` writes them, which loads everything of the network with it.
"""

from __future__ import annotations

_IN_TEXT = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;"})
_IN_QUOTES = {
    **_IN_TEXT,
    **str.maketrans({'"': "&quot;", "\n": "&#10;", "\r": "&#13;", "\t": "&#9;"}),
}


def escape(words: str) -> str:
    """Return words to stand between tags (XML 1.0, section 2.4)."""
    return words.translate(_IN_TEXT)


def quoted(words: str) -> str:
    """Return words as an attribute's value, quotation marks and all (XML 1.0, section 3.3.3)."""
    return f'"{words.translate(_IN_QUOTES)}"'
