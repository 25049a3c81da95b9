"""Reads what a maker is shown, and finds what she should never meet.

Kinds of offence: a foreign unit ("mm" in a workbook kept in inches, inches in a metric one), a
dotted name ("coat front.side"), a key (an id, a name from the code or a file), a bare number (a
fraction or a decimal without a unit), a word of the list in docs/glossary.md and its kin.

What she typed herself is hers: names, notes, reasons and what stands in the fields of a form are
taken out first. What is typed on the command line stands in `backquotes`, in an example after
"clothwright", or as an option "--name"; it is taken out too.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from html import unescape

from clothwright.changes import CHANGES
from clothwright.checks import CHECKS
from clothwright.pattern.pattern import Pattern
from clothwright.rules.kinds import RULES
from clothwright.units import Unit
from clothwright.workbook import Workbook, replay
from clothwright.workroom.editing.edits import EDITS
from clothwright.workroom.editing.reading import name_of

METRIC = re.compile(r"\d[\d.,]*[\s\u00a0]?(?:mm|cm|m|millimetres?|centimetres?|metres?)\b(?![²/])")
IMPERIAL = re.compile(
    r"\d(?:[\s\u00a0]?/[\s\u00a0]?\d+)?[\s\u00a0]?"
    r"(?:in(?!\w)(?![\s\u00a0](?:the|a|an|all|this|your|it|its|each|any|one|two|that|which|order)\b)"
    r"(?![\s\u00a0](?:shell|lining|interfacing))"
    r"|inch(?:es)?|yds?|yards?|ft|feet)\b"
)
BARE = re.compile(
    r"(?<![\w./:,#×-])-?(?:\d+\.\d+|(?:\d+[\s\u00a0])?\d+/\d+)"
    r"(?![\w./:]*\d)(?![\s\u00a0]*(?:mm|cm|m|in|yd|ft|%|°|s|px|MB|deg|degrees|inch|inches|yards?"
    r"|metres?|in your currency|[A-Z]{3})(?![a-z]))(?!\")"
)
KEYS = frozenset(
    {c.id for c in CHANGES if "-" in c.id}
    | {code for c in CHECKS for code in (c.id, *c.codes) if "-" in code}
    | {k.id for k in RULES if "-" in k.id}
    | {"keep-clear", "lay-overlap"}
    | {name for name in map(name_of, EDITS) if "-" in name}
) - {"one-way", "notch-partners"}
TITLED = re.compile(r"\((?:" + "|".join(sorted(c.id for c in CHANGES)) + r")\)")
"""A change of the list that is named by its id: "change 1 (crop)"."""
CODE = re.compile(
    r"\b[a-z]+_[a-z_]+\b|(?<=\w )None\b(?! yet)|\bnan\b|\b[A-Z][a-z]+[A-Z][A-Za-z]+\(|<class"
)
WORDS = tuple(
    re.compile(words)
    for words in (
        r"\b[Tt]ake (?:it|them|these|this|that) in\b",
        r"\b[Tt]ake in (?:the|your|what|another|a|its)\b",
        r"\b[Ff]igures\b(?! of (?:the|a|your) print)",
        r"\b(?:cut|are|pieces|pages|layers|corners|them|it|together) so(?=[.?!\"”]|$)",
        r"\b(?:its|no|the) foot\b|\bfoot point",
        r"(?m)^Keep (?:the|these|this|it|them|its)\b[^.\n]{0,30}$",
        r"\bin in\b",
        r"\b[Ww]ays? out\b",
        r"\b(?:the|a|this|that|each|every) stretch\b|(?<!cloth )\bstretches\b(?! by)",
        r"\b0\.00\b|\bwithin 0 ",
        r"\bnowhere\b",
        r"\bin all\) is gone",
        r"\bthis is no\b|\bit is no\b|\bJSON\b",
        r"\b19 times in 20\b",
        r"\bas left out\b",
        r"\boff (?:the |its )?(?:usual )?grain\b",
        r"\b(?:waist|hip|bust|chest|knee|elbow|biceps|rib|bust) level\b",
        r"\bnot walked\b|\bin no seam here\b",
        r"\bhear about it\b",
        r"\(the piece has no\b",
        r"; try (?:name|add|give|say|write|choose|open|use|take|put|make|pick|draw|set)\b",
        r"\b[Cc]ost:?\s+\d+\.\d\d(?! ?(?:[A-Z£$€]|in your currency))",
        r"\bWhat do I own\b",
        r"\b[Aa]lter(?:s|ed|ation|ations)?\b",
        r"\b(?:\d+|one|a) piece\(s\)",
        r"\b(?:0|[2-9]|[1-9]\d+) (?:piece|edge|seam|notch|plan|page|change|size)\b(?![\w’'-])",
        r"\b1 (?:pieces|edges|seams|notches|plans|pages|changes|sizes)\b",
    )
)
"""Words that failed, as they are recognised in what is shown (CONTRIBUTING.md, One voice)."""

TYPED = re.compile(
    r"`[^`]*`|^\s{0,4}clothwright [a-z].*$|\bclothwright [a-z-]+[^\n]*$"
    r"|(?<!\w)--[a-z][\w-]*(?:=\S+)?",
    re.MULTILINE,
)
"""What is to be typed: in backquotes, an example after the program's name, an option."""
QUOTED = re.compile(r"\"[^\"\n]{1,60}\"|“[^”\n]{1,60}”")
"""A name, or what was typed, said again: a number in it is hers."""
SQUARE = re.compile(
    r"^.*(?:\bsquare\b.*\d|\d.*\bsquare\b|Off by more than|Half a millimetre"
    r"|200 mm \(7 7/8 in\)).*$",
    re.MULTILINE,
)
"""The test square and the bar of a marker sheet are measured with whatever ruler there is."""


@dataclass(frozen=True, slots=True, order=True)
class Offence:
    """What was found: its kind, the words, with some around them, and the place."""

    kind: str
    words: str
    around: str
    place: str

    def __str__(self) -> str:
        return f"{self.kind}: {self.words!r} in {self.around!r} ({self.place})"


def offences(text: str, book: Workbook, place: str, *, help_: bool = False) -> Iterator[Offence]:
    """Yield what a text shown for this workbook should not say.

    help_: it is the help of a command, which knows no workbook: examples may be in any unit, and
    an option may name the format of data it writes.
    """
    left = SQUARE.sub(" ", TYPED.sub(" ", text))
    for words in own_words(book):
        left = re.sub(r"\s+".join(map(re.escape, words.split())), " ", left)
    foreign = METRIC if not book.unit.is_metric else IMPERIAL
    left = left.replace("JSON", " ") if help_ else left
    sentences = without_numbers(left, numbered(book))
    found: list[tuple[str, Iterable[re.Match[str]]]] = [
        ("foreign unit", () if help_ else foreign.finditer(left)),
        ("bare number", BARE.finditer(QUOTED.sub(" ", left))),
        ("key", CODE.finditer(left)),
        *(("word", words.finditer(sentences)) for words in WORDS),
    ]
    keys = re.compile(r"(?<![\w-])(?:" + "|".join(sorted(KEYS)) + r")(?![\w-])")
    found.append(("key", keys.finditer(left)))
    found.append(("key", TITLED.finditer(left)))
    dotted = _dotted(book)
    if dotted is not None:
        found.append(("dotted name", dotted.finditer(left)))
    for kind, hits in found:
        for hit in hits:
            around = " ".join(hit.string[max(0, hit.start() - 50) : hit.end() + 40].split())
            yield Offence(kind, hit.group(0).strip(), around, place)


def strays(text: str, unit: Unit, pattern: Pattern) -> list[str]:
    """Return what a sentence about these pieces should not say in a workbook kept in this unit."""
    book = Workbook(title="t", unit=unit, bought=pattern)
    return [str(each) for each in offences(text, book, f"in {unit.plural}")]


def own_words(book: Workbook) -> list[str]:
    """Return the maker's own sentences, the longest first; short names stay, they hurt nobody."""
    said = [book.notes, *(s.why for s in book.steps), *(p.why for p in book.plans)]
    said += [c.note for c in book.cloths] + [p.note for p in book.bought.pieces]
    said += [book.chart.text, book.chart.source] if book.chart else []
    said += [book.body.note]
    lines = {line.strip() for words in said for line in words.splitlines() if len(line) > 3}
    return sorted(lines, key=len, reverse=True)


NUMBERED = re.compile(r"\S.* [1-9]\d*")


def numbered(book: Workbook) -> tuple[str, ...]:
    """Return the names of hers, or that a change gave, that end in a number, the longest first."""
    names: set[str] = {each.name for each in (*book.cloths, *book.plans)}
    for pattern in (book.bought, replay(book).pattern if book.steps else book.bought):
        names |= {seam.name for seam in pattern.seams}
        for piece in pattern.pieces:
            marked = (*piece.edges, *piece.darts, *piece.levels, *piece.marks)
            notches = (n for edge in piece.edges for n in edge.notches)
            names |= {piece.name, *(m.name for m in marked), *(n.name for n in notches)}
            names |= {edge.corner for edge in piece.edges}
    return tuple(sorted(filter(NUMBERED.fullmatch, names), key=len, reverse=True))


def without_numbers(text: str, names: Iterable[str]) -> str:
    """Return a text with each of these names without its number, which counts nothing."""
    for name in names:
        stem = name.rpartition(" ")[0]
        said = r"\s+".join(map(re.escape, name.split()))
        text = re.sub(rf"(?<!\w){said}(?![\w/.,]*\d)(?!\w)", stem, text)
    return text


def _dotted(book: Workbook) -> re.Pattern[str] | None:
    names = sorted({p.name for p in book.bought.pieces}, key=len, reverse=True)
    if not names:
        return None
    return re.compile(
        r"(?<!\w)(?:"
        + "|".join(map(re.escape, names))
        + r")(?: \w+)?\.(?!svg|pdf|md|csv|dxf|png|txt|toml|zip)[a-z]\w*"
    )


SHOWN = ("aria-label", "alt", "placeholder", "title", "aria-valuetext", "data-confirm")
WITHIN = frozenset(
    {"b", "i", "em", "strong", "span", "small", "code", "sup", "sub", "tspan", "abbr"}
)
"""What stands inside a sentence; any other element begins a line of its own."""
TYPEWRITTEN = frozenset({"code", "pre", "kbd"})


QUIET = re.compile(r"(<(script|style|textarea|template)\b[^>]*>).*?(</\2\s*>)", re.DOTALL)
"""Elements whose content nobody reads as words of a page; what they are called is read."""
DISC = re.compile(r"<b[^>]*>\d+</b>")
"""A number in a disc, such as that of a stage: it stands beside what it numbers."""
TOKEN = re.compile(
    r"<!(?:--.*?--|[^>]*)>|<(?P<end>/?)(?P<tag>[a-zA-Z][\w:-]*)(?P<more>(?:[^>\"']|\"[^\"]*\"|'[^']*')*)>"
    r"|(?P<words>[^<]+|<)",
    re.DOTALL,
)
"""A comment, a tag or what is read, one after another: our own pages close every quote."""
ATTRIBUTE = re.compile(r"(?<![^\s\"'])(?:" + "|".join(SHOWN) + r")=(?:\"([^\"]+)\"|'([^']+)')")


def text_of(html: str) -> str:
    """Return what is read of a page: its text and labels, a line a block; no field's content."""
    parts: list[str] = []
    for found in TOKEN.finditer(DISC.sub("<p>", QUIET.sub(r"\1\3", html))):
        words, tag = found["words"], found["tag"]
        if words:
            said = unescape(words)
            parts.append(re.sub(r"\s+", " ", said))
        elif tag:
            parts.append("`" if tag in TYPEWRITTEN else "")
            parts.append("" if tag in WITHIN else "\n")
            values = (unescape(a or b) for a, b in ATTRIBUTE.findall(found["more"]))
            parts += [f"\n{value}\n" for value in values if "\n" not in value]
    lines = "".join(parts).splitlines()
    return "\n".join(" ".join(line.split()) for line in lines if line.strip())


def links_of(html: str) -> list[str]:
    """Return the addresses a page leads to."""
    return [h.replace("&amp;", "&") for h in re.findall(r'href="([^"#]+)"', html)]


def in_metric(text: str) -> str:
    """Return typed lengths in inches as the same lengths in mm, for a workbook kept in metric."""
    if not isinstance(text, str):
        return text
    from clothwright.units import parse_length

    def said(found: re.Match[str]) -> str:
        return f"{parse_length(found.group(0), unit=Unit.inch, where=''):g} mm"

    return re.sub(r"-?(?:\d+ )?\d+(?:/\d+|\.\d+)? ?in\b", said, text)
