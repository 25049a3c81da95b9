"""XML from anywhere: nothing outside is followed, nothing grows, lines are counted."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import pytest

from clothwright.errors import BadInput
from clothwright.picture.safe_xml import placed_xml

BOMB = '<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;">]><svg>&b;</svg>'


@pytest.mark.parametrize(
    "text",
    [
        BOMB,
        '<!DOCTYPE svg [<!ENTITY x SYSTEM "secret.txt">]><svg>&x;</svg>',
        '<!DOCTYPE svg [<!ENTITY x PUBLIC "a" "http://example.invalid/x">]><svg/>',
        '<!DOCTYPE svg [<!ENTITY % p "x">]><svg/>',
        f'<!DOCTYPE svg [<!ENTITY a "{"a" * 300}">]><svg/>',
        '<!DOCTYPE svg [<!ENTITY a "aaaa">]><svg>' + "&a;" * 20_000 + "</svg>",
    ],
)
@pytest.mark.parametrize("encoding", ["utf-8", "utf-16"])
def test_dangerous_definitions_are_refused(text, encoding):
    """Entities of entities, of files, of addresses, long or many ones, in any encoding."""
    with pytest.raises(BadInput, match="DOCTYPE"):
        placed_xml(text.encode(encoding), "d.svg")


def test_harmless_doctypes_are_let_through():
    """Drawing programs write a DOCTYPE, and some an entity for a long address."""
    text = (
        '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/svg11.dtd" '
        '[<!ENTITY ns "http://www.w3.org/2000/svg">]><svg xmlns="&ns;"><g/></svg>'
    )
    assert placed_xml(text.encode(), "d.svg").root.tag == "{http://www.w3.org/2000/svg}svg"


def test_the_tree_is_that_of_the_standard_parser():
    """Elements, attributes, texts and tails are those that xml.etree finds (standard library)."""
    text = (
        '<a xmlns="urn:x" xmlns:i="urn:i" b="1" i:c="2">t<d e="&#10;x"/>tail<!-- no --><f>ü</f></a>'
    )

    def flat(root: ET.Element) -> list[object]:
        return [(e.tag, e.attrib, e.text, e.tail) for e in root.iter()]

    assert flat(placed_xml(text.encode(), "x").root) == flat(ET.fromstring(text))


def test_every_element_knows_its_line():
    """Lines are counted from 1, also behind elements that run over several lines."""
    found = placed_xml(b'<a>\n <b\n  c="1"\n />\n <d/>\n</a>', "x")
    assert [found.lines[e] for e in found.root.iter()] == [1, 2, 5]


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "is empty"),
        (b"  \n", "is empty"),
        (b"<a>\n<b></a>", "line 2"),
        (b"<a>\xff</a>", "well-formed"),
        (b'<?xml version="1.0" encoding="nonsense"?><a/>', "d.svg"),
        (b"<a/><b/>", "well-formed"),
        (b"<p:a/>", "well-formed"),
    ],
)
def test_what_is_no_xml_is_told(data, words):
    """Each gets a sentence with the file's name, and the line where there is one."""
    with pytest.raises(BadInput) as caught:
        placed_xml(data, "d.svg")
    assert words in str(caught.value)
    assert "d.svg" in str(caught.value).lower()
