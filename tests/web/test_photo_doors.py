"""The addresses of photos: sheets to print, what is refused, the outline as it would be."""

from __future__ import annotations

import io

import pikepdf
import pytest
from PIL import Image

from clothwright.intake.waiting.said import with_answers
from clothwright.workroom.pieces import inbox, photo_sitting
from tests.photo.taken import jpegs
from tests.web.conftest import Desk

BOOK = "/b/Mine/add"
JSON = {"accept": "application/json"}


@pytest.fixture
def mine(desk: Desk) -> Desk:
    """A desk with an empty workbook of one's own."""
    desk.post("/start/new", data={"title": "Mine", "unit": "in"})
    return desk


def test_marker_sheets_are_taken_away(mine: Desk) -> None:
    """As many pages as asked, on the paper asked; anything else is a sentence."""
    answer = mine.client.get(f"{BOOK}/sheets.pdf?count=4&paper=Letter")
    assert answer.headers["content-type"] == "application/pdf"
    with pikepdf.open(io.BytesIO(answer.content)) as pdf:
        assert len(pdf.pages) == 4
        assert [float(n) for n in pdf.pages[0].mediabox][2:] == pytest.approx([612, 792])
    for query in ("count=0", "count=99", "count=x", "count=2&paper=A9", "count=2&paper=roll+9+in"):
        assert mine.client.get(f"{BOOK}/sheets.pdf?{query}", headers=JSON).status_code == 400


def small() -> bytes:
    """A photo that shows nothing."""
    out = io.BytesIO()
    Image.effect_noise((400, 300), 40).save(out, "JPEG")
    return out.getvalue()


@pytest.mark.parametrize(
    ("name", "data", "words"),
    [
        ("a.jpg", b"", "a.jpg: the file is empty"),
        ("a.jpg", b"GIF89a", "a.jpg: it could not be read as a photo"),
        ("a.heic", b"\0\0\0\x18ftypheic" + b"x" * 300, "a.heic: the photo is damaged"),
        ("a.svg", b"<svg/>", "a.svg: it could not be read as a photo"),
        ("", b"x", "as a photo"),
        ("cut.jpg", small()[:2_000], "cut.jpg: the photo is damaged"),
        ("grey.jpg", small(), "grey.jpg: no marker sheet is seen"),
    ],
)
def test_what_is_no_photo_is_named_and_not_kept(mine: Desk, name, data, words) -> None:
    """A sentence each; the inbox stays empty."""
    answer = mine.post(f"{BOOK}/photo?name={name}", content=data, headers=JSON)
    assert answer.status_code == 400
    assert words in answer.json()["sentence"]
    assert inbox.waiting(mine.folder / "Mine") == ()


def test_the_outline_is_asked_about_and_answered(mine: Desk) -> None:
    """A photo alone; a try keeps nothing; bad places, numbers and pieces are a sentence each."""
    sent = mine.post(f"{BOOK}/photo?name=front.jpg", content=jpegs()[0], headers=JSON)
    key = sent.json()["drawing"]

    def say(door: str = "", **form: str):
        path = f"{BOOK}/outline{door}?drawing={key}"
        return mine.post(path, data={"by": "script", **form}, headers=JSON)

    assert "within" in say(what="solve").json()["words"]
    (one,) = inbox.waiting(mine.folder / "Mine")
    at = photo_sitting.view_of(one).found.outline.path.point_at(700.0)
    place, to = f"{at.x:.3f},{at.y:.3f}", f"{at.x + 2:.3f},{at.y:.3f}"
    tried = say("/try", at=place, to=to).json()
    assert tried["line"].startswith("M")
    assert "moved by 1/16 in" in tried["words"]
    assert photo_sitting.view_of(one).photos.moves == ()
    for form in (
        {"what": "nothing"},
        {"what": "move", "at": "x", "to": "1,1"},
        {"what": "move", "at": place, "to": "-9,-9"},
        {"what": "move", "at": "1,1", "to": "2,2"},
        {"what": "add", "at": "9999,9999"},
        {"what": "tick", "doubt": "77", "said": "right"},
        {"what": "tick", "doubt": "1", "said": "perhaps"},
        {"what": "across", "doubt": "-1"},
        {"what": "use", "photo": "9", "use": "no"},
        {"what": "bar", "bar": "2 m"},
        {"what": "undo", "have": "many"},
    ):
        answer = say(**form)
        assert answer.status_code == 400, form
        assert answer.json()["sentence"]
    assert say(what="use", photo="1", use="no").status_code == 409
    assert say(what="move", at=place, to=to).json()["words"].startswith("Saved: moved by 1/16 in.")
    assert len(photo_sitting.view_of(one).photos.moves) == 1
    picture = mine.client.get(f"{BOOK}/flat.jpg?drawing={key}")
    assert picture.headers["content-type"] == "image/jpeg"
    for door in ("flat.jpg?drawing=none", "flat.jpg?drawing=../../x"):
        assert mine.client.get(f"{BOOK}/{door}", headers=JSON).status_code == 400


def test_an_outline_that_crosses_itself_is_told_at_once(mine: Desk) -> None:
    """While a point is dragged, when it is let go, and on the page, until it is undone."""
    sent = mine.post(f"{BOOK}/photo?name=front.jpg", content=jpegs()[0], headers=JSON)
    key = sent.json()["drawing"]
    mine.post(f"{BOOK}/photo?name=b.jpg&drawing={key}", content=jpegs()[1], headers=JSON)

    def say(door: str = "", **form: str):
        path = f"{BOOK}/outline{door}?drawing={key}"
        return mine.post(path, data={"by": "script", **form}, headers=JSON).json()["words"]

    def told() -> bool:
        return 'id="outline-spoiled"' in mine.client.get(f"{BOOK}?drawing={key}").text

    assert say(what="solve")
    (one,) = inbox.waiting(mine.folder / "Mine")
    view = photo_sitting.view_of(one)
    assert (view.spoiled, told()) == ((), False)
    left = min((h.at for h in view.mended.holds), key=lambda p: p.x)
    right = view.found.outline.path.bounds()[1].x
    far = {"at": f"{left.x:.3f},{left.y:.3f}", "to": f"{right + 12:.3f},{left.y:.3f}"}
    assert "(The outline crosses itself" in say("/try", **far)
    assert not told()
    words = say(what="move", **far)
    assert words.startswith("Saved: moved by")
    assert "crosses itself" in words
    assert "from the left" in words
    assert told()
    assert say(what="undo", have="1") == "The last correction was undone."
    assert not told()


def test_corners_that_were_pressed_go_along(mine: Desk) -> None:
    """A corner pressed before is where the outline was moved to, and the piece is still made."""
    sent = mine.post(f"{BOOK}/photo?name=front.jpg", content=jpegs()[0], headers=JSON)
    key = sent.json()["drawing"]
    folder = mine.folder / "Mine"
    (one,) = inbox.waiting(folder)
    holds = [h for h in photo_sitting.view_of(one).mended.holds if h.corner]
    corners = [holds[0], holds[len(holds) // 2]]
    text = "at " + "; ".join(f"{h.now.x:.3f},{h.now.y:.3f}" for h in corners)
    inbox.answer(folder, key, lambda w: with_answers(w, 0, corners=text))
    at = corners[0].at
    form = {
        "what": "move",
        "at": f"{at.x:.3f},{at.y:.3f}",
        "to": f"{at.x + 5:.3f},{at.y + 3:.3f}",
        "by": "script",
    }
    assert mine.post(f"{BOOK}/outline?drawing={key}", data=form, headers=JSON).status_code == 200
    kept = inbox.one_waiting(folder, key).about(0).answers.corners
    assert kept.startswith(f"at {at.x + 5:.3f},{at.y + 3:.3f}; ")
    moved = kept.removeprefix("at ").split("; ")[1]
    assert moved == text.split("; ")[1]
