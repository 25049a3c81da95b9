"""A length is not parted from its unit by a new line, on the narrowest phone."""

from __future__ import annotations

import pytest

from clothwright.web.rendering import unbroken


@pytest.mark.parametrize(
    ("words", "whole"),
    [
        ("Shorten it by 28 3/4 in at the hem.", ["28 3/4 in"]),
        ("from 0.7 cm to 13.9 cm; both", ["0.7 cm", "13.9 cm"]),
        ("less than 1/16 in, 2 pieces in all", ["1/16 in"]),
        ("5° and 3 notches", []),
    ],
)
def test_lengths_are_kept_whole(words: str, whole: list[str]) -> None:
    """Each with its unit in one span that does not break; the words stay the same."""
    html = unbroken(words)
    opened = '<span class="length">'
    assert [part.partition("</span>")[0] for part in html.split(opened)[1:]] == whole
    assert html.replace(opened, "").replace("</span>", "") == words


def test_what_is_no_markup_stays_words() -> None:
    """A name of hers with signs of markup in it is shown as she typed it."""
    assert unbroken("<b>hem</b> is 2 cm long").startswith("&lt;b&gt;hem&lt;/b&gt; is <span")
