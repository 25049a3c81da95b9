"""Any words come back from XML as they were."""

from __future__ import annotations

from xml.etree import ElementTree as ET

from hypothesis import given
from hypothesis import strategies as st

from clothwright.picture.xml_words import escape, quoted

LETTERS = st.characters(exclude_categories=("Cs", "Cc"))
WORDS = st.text(LETTERS | st.sampled_from("&<>\"'\n\t"))


@given(WORDS)
def test_words_come_back(words: str) -> None:
    """Between tags and in an attribute, by the standard library's parser; controls are no XML."""
    read = ET.fromstring(f"<a b={quoted(words)}>{escape(words)}</a>")
    assert (read.get("b"), read.text or "") == (words, words)
