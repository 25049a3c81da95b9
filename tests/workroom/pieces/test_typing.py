"""Typed measurements in the inbox, and kept after their pieces were added (demo data)."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from clothwright.errors import BadInput
from clothwright.intake.waiting.said import Waiting, with_answers
from clothwright.pattern.pattern import Pattern
from clothwright.store import create
from clothwright.units import Unit
from clothwright.workbook import Workbook
from clothwright.workroom.pieces import inbox, typing
from clothwright.workroom.pieces.sitting import look
from tests.intake.test_typed import SQUARE, piece
from tests.web.intake_demo import bare, demo_piece


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """An empty workbook's folder."""
    create(tmp_path / "mine", Workbook(title="Mine"))
    return tmp_path / "mine"


def test_a_text_is_kept_letter_for_letter_with_its_mistakes(folder: Path) -> None:
    """What was typed is what stands there, also half a line; it is called by its piece."""
    one = typing.begin(folder, SQUARE + "X is 3 cm dow")
    assert one.file == "panel, measurements.txt"
    again = inbox.one_waiting(folder, one.id)
    assert typing.is_notes(again)
    assert typing.notes_in(again) == SQUARE + "X is 3 cm dow"
    assert len(typing.typed_of(again, Unit.cm).slips) == 1


def test_a_text_is_retyped_from_what_it_was(folder: Path) -> None:
    """Another text takes its place when it was made from the one there; empty is allowed too."""
    one = typing.begin(folder, SQUARE)
    renamed = SQUARE.replace("piece panel", "piece back/panel")
    after = typing.retype(folder, one.id, renamed, typing.digest(SQUARE))
    assert after.file == "back panel, measurements.txt"
    with pytest.raises(BadInput, match="changed meanwhile"):
        typing.retype(folder, one.id, SQUARE + "#", typing.digest(SQUARE))
    assert typing.notes_in(after) == renamed
    empty = typing.retype(folder, one.id, "", typing.digest(renamed))
    assert typing.notes_in(empty).strip() == ""


def test_only_a_text_is_retyped(folder: Path) -> None:
    """A drawing in the inbox is never overwritten by a text."""
    data = bare(demo_piece("skirt front"))
    one = inbox.put_in(folder, "front.svg", data)
    with pytest.raises(BadInput, match="was not typed here"):
        typing.retype(folder, one.id, SQUARE, "")
    assert one.stored.read_bytes() == data
    assert not typing.is_notes(one)


def test_far_too_long_a_text_is_refused(folder: Path) -> None:
    """A sentence, and nothing in the inbox."""
    with pytest.raises(BadInput, match="too long"):
        typing.begin(folder, "x" * 200_000)
    assert inbox.waiting(folder) == ()


def test_what_was_added_is_kept_under_its_piece(folder: Path) -> None:
    """Kept once a piece, the later in the place of the earlier; shown while the piece is there."""
    made = piece(SQUARE)
    typing.keep(folder, SQUARE, (made,))
    typing.keep(folder, SQUARE + "# again\n", (made,))
    (kept,) = typing.kept(folder, {"panel": made})
    assert kept.pieces == ("panel",)
    assert typing.kept(folder, {"other": made}) == ()
    one = typing.again(folder, kept.key, {"panel": made})
    assert typing.notes_in(one) == SQUARE + "# again\n"
    assert one.about(0).replace == "yes"
    with pytest.raises(BadInput, match="not kept"):
        typing.again(folder, "../inbox", {"panel": made})


def test_odd_names_make_plain_files(folder: Path) -> None:
    """Names that differ only in signs a file cannot have are kept apart."""
    for name in ("front/left", "front*left", "../up"):
        text = SQUARE.replace("piece panel", f"piece {name}")
        typing.keep(folder, text, (piece(SQUARE.replace("panel", "p"), name=name),))
    files = sorted(p.name for p in (folder / "typed").iterdir())
    assert len(files) == 3
    assert all("/" not in f and ".." not in f.removesuffix(".txt") for f in files)


def book(*names: str) -> Workbook:
    """A workbook with square pieces of these names."""
    made = tuple(piece(SQUARE.replace("panel", n)) for n in names)
    return Workbook(title="Mine", bought=Pattern(pieces=made))


def asked(one: Waiting, workbook: Workbook) -> list[list[str]]:
    """What has to be answered before each outline can be added."""
    found = look(one, workbook.bought, Unit.cm)
    return [[q.id for q in o.must] for o in found.outlines]


def test_a_yes_to_one_name_is_none_to_another(folder: Path) -> None:
    """Correct front, its name typed over with back: the workbook's other back is asked about."""
    text, workbook = SQUARE.replace("panel", "front"), book("front", "back")
    by = {p.name: p for p in workbook.bought.pieces}
    typing.keep(folder, text, (by["front"],))
    one = typing.again(folder, typing.kept(folder, by)[0].key, by)
    assert asked(one, workbook) == [[]]
    back = text.replace("piece front", "piece back")
    one = typing.retype(folder, one.id, back, typing.digest(text))
    assert asked(one, workbook) == [["name"]]
    before = SQUARE.replace("panel", "back") + text
    one = typing.begin(folder, text)
    one = inbox.answer(folder, one.id, lambda w: with_answers(w, 0, replace="yes"))
    one = typing.retype(folder, one.id, before, typing.digest(text))
    assert asked(one, workbook) == [["name"], []]


def test_only_pieces_that_are_named_take_a_place(folder: Path) -> None:
    """A text taken up again answers for the pieces it was about, and for no later line of it."""
    text, workbook = SQUARE.replace("panel", "front"), book("front", "back")
    by = {p.name: p for p in workbook.bought.pieces}
    typing.keep(folder, text, (by["front"],))
    one = typing.again(folder, typing.kept(folder, by)[0].key, by)
    more = text + SQUARE.replace("panel", "back")
    one = typing.retype(folder, one.id, more, typing.digest(text))
    assert asked(one, workbook) == [[], ["name"]]


def test_a_piece_added_under_another_name_is_corrected_under_it(folder: Path) -> None:
    """Typed as panel, added as side panel: side panel is replaced, another panel is left alone."""
    workbook = book("side panel", "panel")
    by = {p.name: p for p in workbook.bought.pieces}
    typing.keep(folder, SQUARE, (by["side panel"],))
    (kept,) = typing.kept(folder, by)
    assert kept.pieces == ("side panel",)
    one = typing.again(folder, kept.key, by)
    (outline,) = look(one, workbook.bought, Unit.cm).outlines
    assert (outline.name, outline.must) == ("side panel", ())


def test_a_text_of_empty_lines_is_refused_at_once(folder: Path) -> None:
    """As many lines as letters: refused with a sentence, in a moment (else it is killed)."""
    program = (
        "import sys\n"
        "from pathlib import Path\n"
        "from clothwright.errors import BadInput\n"
        "from clothwright.workroom.pieces import typing\n"
        "try:\n"
        "    typing.begin(Path(sys.argv[1]), '\\n' * 99_000 + 'x')\n"
        "except BadInput as error:\n"
        "    print(error)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, str(folder)],
        capture_output=True,
        text=True,
        timeout=180,
        check=True,
    )
    assert "too long" in done.stdout
    assert inbox.waiting(folder) == ()
