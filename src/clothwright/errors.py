"""What the tool says when it cannot go on: one clear sentence, never a traceback.

Every error meant for the maker is a ``ClothwrightError``.  The doors (command line, web) catch
that one class, show ``str(error)`` and leave with ``error.exit_code``.  Anything else that
escapes is a fault of ours.

The errors can be pickled, because they cross from worker processes to the one she looks at.
"""

import errno
import math
from collections.abc import Callable, Iterable, Sequence
from difflib import get_close_matches
from typing import ClassVar, Protocol, TypeVar

_STOPS = (".", "!", "?", "…")
_KEPT = "\0"
"""Stands in a sentence where a length is, while it is taken apart."""

Sentence = tuple[str | float, ...]
"""A sentence in pieces: text as it is, and every number a length in millimetres.

Counts, angles and shares go in as text, so that a number is always a length:
``("Shortened ", "front", " by ", 25.4)``.
"""


class AtMost(float):
    """A length (mm) that may not be more: it is shown rounded down, so that what she reads does.

    >>> in_mm(AtMost(12.38)), in_mm(AtLeast(12.32))
    ('12.3 mm', '12.4 mm')
    """


class AtLeast(float):
    """A length (mm) that may not be less: it is shown rounded up."""


class MissedBy(float):
    """A length (mm) by which something is missed: a little is never shown as nothing."""


class Between(float):
    """By how much one length (mm) is more than another that is told beside it.

    It is shown as the difference of what she reads of the two, so that the three add up.

    >>> Between(111.4, 102.4)
    9.0
    """

    parts: tuple[float, float]

    def __new__(cls, longer: float, shorter: float) -> "Between":
        """Keep both lengths, mm."""
        it = super().__new__(cls, longer - shorter)
        it.parts = (longer, shorter)
        return it

    def __reduce__(self) -> tuple[type["Between"], tuple[float, float]]:
        """Let it be pickled and copied."""
        return Between, self.parts


Said = str | Sentence
"""Words of an error: text, or a sentence whose lengths are shown in her unit where it is read."""

Show = Callable[[float], str]
"""Says a length (mm) in somebody's unit."""


def in_mm(mm: float) -> str:
    """A length in millimetres to a tenth, for logs and tests; a maker reads `words.told`.

    >>> in_mm(25.4), in_mm(3.0)
    ('25.4 mm', '3 mm')
    """
    if isinstance(mm, AtMost | AtLeast):
        tenths = mm * 10.0
        mm = (
            math.floor(tenths + 1e-6) if isinstance(mm, AtMost) else math.ceil(tenths - 1e-6)
        ) / 10
    return f"{round(mm, 1):.10g} mm"


def put(said: Said, show: Show = in_mm) -> str:
    """Words as text, each length of them shown.

    >>> put(("shortened by ", 25.4))
    'shortened by 25.4 mm'
    """
    if isinstance(said, str):
        return said
    return "".join(part if isinstance(part, str) else show(part) for part in said)


def joined(*parts: Said) -> Sentence:
    """Text and sentences one behind the other, as one sentence.

    >>> joined('"1 in" is too little: ', ("at least ", 50.8))
    ('"1 in" is too little: ', 'at least ', 50.8)
    """
    return tuple(p for said in parts for p in ((said,) if isinstance(said, str) else said))


class ClothwrightError(Exception):
    """Anything the maker should read as a sentence.

    >>> ClothwrightError("The workbook is already open elsewhere.").exit_code
    1
    """

    exit_code: ClassVar[int] = 1

    def told(self, show: Show) -> str:  # noqa: ARG002 (an error without lengths)
        """The sentence with its lengths as `show` says them."""
        return str(self)

    def sentence(self) -> Sentence:
        """What it says as a sentence, its lengths (mm) kept as numbers.

        >>> BadInput(what=("the hem would be ", 508.0, " deep")).sentence()
        ('The hem would be ', 508.0, ' deep.')
        """
        lengths: list[float] = []

        def kept(mm: float) -> str:
            lengths.append(mm)
            return _KEPT

        texts = self.told(kept).split(_KEPT)
        parts: list[str | float] = [texts[0]]
        for mm, text in zip(lengths, texts[1:], strict=True):
            parts += [mm, text]
        return tuple(part for part in parts if part != "")


class BadInput(ClothwrightError):  # noqa: N818
    """Something she typed, or a file holds, cannot be used as it stands.

    what: what was found; where: the place (option, file and line, piece and edge); expected: what
    would have been right; try_: what to do about it.

    >>> print(BadInput(what='"5/0" divides by zero', where="side seam",
    ...                expected="a length such as 5/8 in", try_="5/8 in"))
    Side seam: "5/0" divides by zero; expected a length such as 5/8 in; try 5/8 in.
    """

    exit_code: ClassVar[int] = 2

    def __init__(
        self, *, what: Said, where: str = "", expected: Said = "", try_: Said = ""
    ) -> None:
        self.what, self.where, self.expected, self.try_ = what, where, expected, try_
        super().__init__(what)

    def __str__(self) -> str:
        return self.told(in_mm)

    def told(self, show: Show) -> str:
        """The sentence with its lengths as `show` says them."""
        words = _bare(put(self.what, show))
        for lead, part in (("expected", self.expected), ("try", self.try_)):
            if part:
                asked = words.endswith(_STOPS)
                words += f" {lead.capitalize()} " if asked else f"; {lead} "
                words += _bare(put(part, show))
        return _sentence(words, self.where)

    def __reduce__(self) -> tuple[Callable[..., ClothwrightError], tuple[object, ...]]:
        return _bad_input, (type(self), self.what, self.where, self.expected, self.try_)

    def at(self, where: str) -> "BadInput":
        """The same error with an outer place named before its own, as the error travels outward.

        >>> print(BadInput(what="no number", where="width").at("cloth 1"))
        Cloth 1, width: no number.
        """
        place = f"{where}, {self.where}" if self.where else where
        return BadInput(what=self.what, where=place, expected=self.expected, try_=self.try_)


ROOM = "again when there is room"
ELSEWHERE = "with a folder you may write in: see who may change it, or copy it somewhere else"
WAY_OUT = {
    **dict.fromkeys((errno.ENOSPC, errno.EDQUOT, errno.EFBIG), ROOM),
    **dict.fromkeys((errno.EACCES, errno.EPERM, errno.EROFS), ELSEWHERE),
}
"""What to try, by what the disk says; for anything else, another disk."""


def disk_failed(
    error: OSError, what: str = "the disk could not be used", *, where: str = "", safe: str = ""
) -> BadInput:
    """Return what the disk says as a refusal in words. what: what could not be done.

    safe: what is as it was, said after what to try.
    """
    try_ = WAY_OUT.get(error.errno or 0, "again, or with a copy of the folder on another disk")
    return BadInput(
        where=where,
        what=f"{what} ({error.strerror or error})",
        expected="a disk that can be written to",
        try_=f"{try_}; {safe}" if safe else try_,
    )


class CannotDo(ClothwrightError):  # noqa: N818
    """A sound request that these pieces or this cloth do not allow.

    what: what was asked for and cannot be done; why: the reason; nearest: the nearest thing that
    can be done.

    >>> print(CannotDo(what="the front cannot be cropped at 17 in",
    ...                why="the dart would be cut through",
    ...                nearest="rotate the dart to the side seam first"))
    The front cannot be cropped at 17 in: the dart would be cut through. The nearest that can be \
done: rotate the dart to the side seam first.
    """

    exit_code: ClassVar[int] = 2

    def __init__(self, *, what: Said, why: Said, nearest: Said = "") -> None:
        self.what, self.why, self.nearest = what, why, nearest
        super().__init__(what)

    def __str__(self) -> str:
        return self.told(in_mm)

    def told(self, show: Show) -> str:
        """The sentence with its lengths as `show` says them."""
        what, why = put(self.what, show), put(self.why, show)
        first = _sentence(f"{_bare(what)}: {_bare(why)}" if why else what)
        if not self.nearest:
            return first
        return f"{first} The nearest that can be done: {_bare(put(self.nearest, show))}."

    def __reduce__(self) -> tuple[Callable[..., ClothwrightError], tuple[object, ...]]:
        return _cannot_do, (type(self), self.what, self.why, self.nearest)


class Mistakes(ClothwrightError):  # noqa: N818
    """Several mistakes found in one reading, all told at once so that all can be mended at once.

    >>> print(Mistakes([BadInput(what="no number", where="line 3"),
    ...                 BadInput(what="no such piece", where="line 9")]))
    2 mistakes:
    - Line 3: no number.
    - Line 9: no such piece.
    """

    exit_code: ClassVar[int] = 2

    def __init__(self, mistakes: Iterable[BadInput]) -> None:
        self.mistakes: tuple[BadInput, ...] = tuple(mistakes)
        super().__init__(f"{len(self.mistakes)} mistakes")

    def __str__(self) -> str:
        return self.told(in_mm)

    def told(self, show: Show) -> str:
        """The sentences with their lengths as `show` says them."""
        if len(self.mistakes) == 1:
            return self.mistakes[0].told(show)
        lines = "".join(f"\n- {mistake.told(show)}" for mistake in self.mistakes)
        return f"{len(self.mistakes)} mistakes:{lines}"

    def __reduce__(self) -> tuple[type["Mistakes"], tuple[object, ...]]:
        return type(self), (self.mistakes,)


def garbled() -> BadInput:
    """What to say of a request no maker typed: a page and its server do not agree on it.

    >>> print(garbled())
    What the page sent could not be read; try loading the page again.
    """
    return BadInput(what="what the page sent could not be read", try_="loading the page again")


def raise_all(mistakes: Iterable[BadInput]) -> None:
    """Nothing when there are no mistakes; raises the one mistake, or all as ``Mistakes``.

    >>> raise_all([])
    """
    found = tuple(mistakes)
    if len(found) == 1:
        raise found[0]
    if found:
        raise Mistakes(found)


def begun(words: str) -> str:
    """Return words as they stand at the head of a card or of a sentence: begun with a capital.

    >>> begun("crop at the waist"), begun("")
    ('Crop at the waist', '')
    """
    return words[:1].upper() + words[1:]


def within(words: str) -> str:
    """Return a title as it stands inside a sentence: begun small.

    >>> within("Crop to a length")
    'crop to a length'
    """
    return words[:1].lower() + words[1:]


def one_of(known: Iterable[str]) -> str:
    """What would have been right, when it has to be one of these names; nothing for none.

    >>> one_of(["front", "back"]), one_of(["front"]), one_of([])
    ('one of front, back', 'front', '')
    """
    names = tuple(known)
    return ("one of " if len(names) > 1 else "") + ", ".join(names)


def did_you_mean(name: str, known: Iterable[str], none: str = "") -> str:
    """A leading-space question naming the closest known name, or nothing when none is close.

    Big and small letters count as the same; the answer is spelt as it is known. When no name is
    known at all, `none` says so as a sentence.

    >>> did_you_mean("Frnt", ["front", "back"])
    ' Did you mean "front"?'
    >>> did_you_mean("zipper", ["front", "back"]), did_you_mean("waist", [], "It has no lines.")
    ('', ' It has no lines.')
    """
    by_folded: dict[str, str] = {}
    for each in known:
        by_folded.setdefault(each.casefold(), each)
    if none and not by_folded:
        return f" {none}"
    close = get_close_matches(name.casefold(), by_folded, n=1, cutoff=0.6)
    return f' Did you mean "{by_folded[close[0]]}"?' if close else ""


def not_known(
    what: str, name: str, known: Iterable[str], none: str = "", *, where: str = ""
) -> BadInput:
    """The error of a name that is not among those known: the nearest of them, and all of them.

    what: what is wrong, without its full stop. none: a sentence for when no name is known at all.

    >>> print(not_known('there is no edge "Sied"', "Sied", ["side", "hem"]))
    There is no edge "Sied". Did you mean "side"? Expected one of side, hem.
    """
    names = tuple(known)
    said = f"{what}.{did_you_mean(name, names, none)}"
    return BadInput(where=where, what=said, expected=one_of(names))


class _Named(Protocol):
    @property
    def name(self) -> str: ...


N = TypeVar("N", bound=_Named)


def named(things: Sequence[N], name: str, what: str, none: str = "") -> N:
    """Return the first thing of a name. Raises BadInput as `not_known` says it."""
    for thing in things:
        if thing.name == name:
            return thing
    raise not_known(f'{what} "{name}"', name, [t.name for t in things], none)


def _bare(text: str) -> str:
    """Text without the full stop at its end, ready to stand inside a longer sentence."""
    trimmed = text.strip()
    return trimmed[:-1] if trimmed.endswith(".") and not trimmed.endswith("..") else trimmed


def _sentence(text: str, where: str = "") -> str:
    """Place, colon, text; a capital at the front unless a quotation, name or path stands there."""
    whole = f"{where.strip()}: {text.strip()}" if where.strip() else text.strip()
    first_word = whole.split(" ", 1)[0]
    if first_word.rstrip(":,").isalpha() and first_word.islower():
        whole = begun(whole)
    return whole if whole.endswith(_STOPS) else whole + "."


def _bad_input(
    kind: type[BadInput], what: Said, where: str, expected: Said, try_: Said
) -> ClothwrightError:
    return kind(what=what, where=where, expected=expected, try_=try_)


def _cannot_do(kind: type[CannotDo], what: Said, why: Said, nearest: Said) -> ClothwrightError:
    return kind(what=what, why=why, nearest=nearest)
