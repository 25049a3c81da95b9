"""The guide as text and as pages: nothing said is lost on the way."""

from __future__ import annotations

import io
import re
from xml.etree import ElementTree as ET

import pikepdf
import pypdfium2
import pytest
from markdown_it import MarkdownIt

from clothwright.outputs import fonts
from clothwright.outputs.guide_md import guide_md
from clothwright.outputs.guide_pdf import guide_pdf
from clothwright.outputs.paper import parse_paper
from clothwright.picture import (
    Caution,
    Chapter,
    Document,
    Illustration,
    Para,
    Picture,
    Points,
    Table,
)
from tests.outputs.raster import PAPER, by_pdfium
from tests.outputs.specimens import panel

CUTS = Table(
    head=("No.", "Piece", "From the cut end"),
    rows=(("1", "front", "2 cm"), ("2", "back | yoke", "1⅝ in")),
    caption="Cuts from the shell",
    figures=(2,),
)
GUIDE = Document(
    title="Panel skirt, demo data",
    subtitle="From 2.4 m of cloth",
    blocks=(Para(words="Read all of it first."), Caution(words="Make a trial garment first.")),
    sections=(
        Chapter(
            title="What was changed",
            blocks=(
                Points(items=("Shortened by 1 in.", "Hem *squared* <at last>."), numbered=True),
                Points(items=("Ruler", "Mat"), tick=True),
                Points(items=()),
            ),
            sections=(
                Chapter(
                    title="Front",
                    blocks=(
                        Illustration(picture=panel(), alt="The front", caption="Changed front"),
                    ),
                ),
            ),
        ),
        Chapter(title="Cut", blocks=(CUTS, Illustration(picture=panel(), alt="Again", width=60.0))),
    ),
)


def markdown() -> str:
    return guide_md(GUIDE)[0].content.decode("utf-8")


def test_links_lead_to_files() -> None:
    """Every picture in the text is one of the files beside it, and every file is in the text."""
    files = guide_md(GUIDE, "skirt")
    links = re.findall(r"!\[[^\]]*\]\(([^)]+)\)", files[0].content.decode("utf-8"))
    assert files[0].name == "skirt.md"
    assert links == [file.name for file in files[1:]]
    assert len(set(links)) == 2
    for file in files[1:]:
        assert file.name.isascii()
        assert " " not in file.name
        assert ET.fromstring(file.content).tag.endswith("svg")


def test_headings_lists_and_tables() -> None:
    """Headings by depth, numbered and tick lists, a table with as many cells in every row."""
    text = markdown()
    assert re.findall(r"^(#+) (.+)$", text, re.MULTILINE) == [
        ("#", "Panel skirt, demo data"),
        ("##", "What was changed"),
        ("###", "Front"),
        ("##", "Cut"),
    ]
    assert "1. Shortened by 1 in.\n2. " in text
    assert "- [ ] Ruler" in text
    assert "> **Take care.** Make a trial garment first." in text
    rows = [line for line in text.splitlines() if line.startswith("|")]
    assert {len(re.findall(r"(?<!\\)\|", row)) for row in rows} == {4}
    assert "---:" in rows[1]


def test_words_mean_themselves() -> None:
    """Stars, brackets and bars in the words are not taken for Markdown."""
    text = markdown()
    assert r"Hem \*squared\* \<at last\>." in text
    assert r"back \| yoke" in text


@pytest.mark.parametrize("words", ["1. coat side", "2) back", "- so", "# so", "+ so"])
def test_a_heading_that_looks_like_a_list_keeps_its_words(words: str) -> None:
    """Read by another program (markdown-it, CommonMark), the words are a paragraph, all there."""
    text = guide_md(Document(title="t", blocks=(Para(words=words),)))[0].content.decode("utf-8")
    assert f"<p>{words}</p>" in MarkdownIt().render(text)


def words_of(pdf: bytes) -> str:
    with pypdfium2.PdfDocument(pdf) as document:
        return "\n".join(page.get_textpage().get_text_bounded() for page in document)


def test_all_words_are_on_the_pages() -> None:
    """Title, headings, lists, cautions, tables and captions can all be found in the PDF."""
    words = words_of(guide_pdf(GUIDE))
    for said in (
        "Panel skirt, demo data",
        "From 2.4 m of cloth",
        "Take care. Make a trial garment first.",
        "What was changed",
        "Hem *squared* <at last>.",
        "Ruler",
        "Cuts from the shell",
        "back | yoke",
        "1 5/8 in",
        "Changed front",
    ):
        assert said in words


def test_no_line_ends_within_a_length() -> None:
    """Wherever the line ends, a number stays with its fraction and its unit."""
    said = " ".join(f"{n} 1/2 in and {n}.5 cm," + " so" * (n % 7) for n in range(10, 90))
    text = words_of(guide_pdf(Document(title="t", blocks=(Para(words=said),))))
    lines = [line.strip() for line in text.replace("\r", "").splitlines()]
    assert len(lines) > 20
    assert not [line for line in lines if re.match(r"(?:1/2|in|cm)\b", line)]
    for line in fonts.wrapped(said, 10.0, 100.0):
        assert not re.match(r"(?:1/2|in|cm)\b", line)


def test_headings_are_in_the_outline() -> None:
    """A reader's side bar shows the headings."""
    with pikepdf.open(io.BytesIO(guide_pdf(GUIDE))) as pdf, pdf.open_outline() as outline:
        assert [entry.title for entry in outline.root] == ["What was changed", "Cut"]
        assert [entry.title for entry in outline.root[0].children] == ["Front"]


def test_typefaces_are_embedded_and_bytes_are_fixed() -> None:
    """No typeface is left to the reader's machine; the same guide gives the same file."""
    content = guide_pdf(GUIDE)
    assert content == guide_pdf(GUIDE)
    with pikepdf.open(io.BytesIO(content)) as pdf:
        for page in pdf.pages:
            for font in page.Resources.Font.values():
                assert "/FontFile2" in font.FontDescriptor


def test_pictures_are_lines() -> None:
    """Pictures are drawn, not pasted as pixels; the page has no image in it."""
    with pikepdf.open(io.BytesIO(guide_pdf(GUIDE))) as pdf:
        for page in pdf.pages:
            assert "/XObject" not in page.Resources or not len(page.Resources.XObject)
    pages = by_pdfium(guide_pdf(GUIDE))
    assert min(page.grey.min() for page in pages) < 0.2 * PAPER


@pytest.mark.parametrize("paper", ["A4", "Letter", "A5"])
def test_papers(paper: str) -> None:
    """Tall pictures, long tables and long words fit on small paper too."""
    long = Table(
        head=("Piece", "Words", "Figure"),
        rows=tuple((f"piece {i}", "long words " * 12, f"{i} cm") for i in range(60)),
        figures=(2,),
    )
    guide = Document(
        title="A title that is so long that it takes more than one line of the page it stands on",
        blocks=(long, Illustration(picture=panel(), alt="Wide", width=900.0)),
    )
    content = guide_pdf(guide, paper=parse_paper(paper))
    assert "piece 59" in words_of(content)


def test_a_guide_with_nothing_in_it() -> None:
    """A title alone, an empty table and an empty picture are no error."""
    empty = Document(
        title="Nothing yet",
        blocks=(Table(head=("Piece",), rows=()), Illustration(picture=Picture(), alt="No lay yet")),
    )
    assert "Nothing yet" in words_of(guide_pdf(empty))
    assert "No lay yet" in words_of(guide_pdf(empty))
    files = guide_md(empty)
    assert len(files) == 1
    assert "No lay yet" in files[0].content.decode("utf-8")
