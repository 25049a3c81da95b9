"""The intake's addresses: files in, answers, pieces, seams; hostile files are a sentence each."""

from __future__ import annotations

import html
import io
import re
import zipfile
from urllib.parse import parse_qs, urlsplit

import pytest

from clothwright.store import load
from clothwright.workroom.pieces import inbox
from tests.web.conftest import Desk
from tests.web.intake_demo import bare, demo_piece

BOOK = "/b/Mine"
JSON = {"accept": "application/json"}
HTML = {"accept": "text/html"}


@pytest.fixture
def mine(desk: Desk) -> Desk:
    """A desk with an empty workbook of one's own."""
    desk.post("/start/new", data={"title": "Mine", "unit": "in"})
    return desk


def take_in(desk: Desk, name: str, data: bytes):
    return desk.post(f"{BOOK}/add/file?name={name}", content=data, headers=JSON)


def brought(desk: Desk, name: str = "skirt front") -> str:
    """Take a demo piece's bare drawing in; return its key."""
    answer = take_in(desk, f"{name}.svg", bare(demo_piece(name)))
    assert answer.status_code == 200, answer.text
    return parse_qs(urlsplit(answer.json()["address"]).query)["drawing"][0]


def say(desk: Desk, key: str, **form: str):
    path = f"{BOOK}/add/answer?drawing={key}&piece=0"
    return desk.post(path, data={"by": "script", **form}, headers=JSON)


def page(desk: Desk, key: str, part: str = "") -> str:
    more = f"&part={part}" if part else ""
    answer = desk.client.get(f"{BOOK}/add?drawing={key}&piece=0{more}", headers=HTML)
    assert answer.status_code == 200, answer.text
    return answer.text


def test_from_a_file_to_a_piece(mine: Desk) -> None:
    """A file, its question, a refusal that says what is missing, the answer, one edit; undo."""
    key = brought(mine)
    assert "1 question has to be answered first" in page(mine, key)
    path = f"{BOOK}/add/confirm?drawing={key}"
    refused = mine.post(path, data={"by": "script"}, headers=JSON)
    assert refused.status_code == 409
    assert "seam allowance" in refused.json()["sentence"]
    assert say(mine, key, what="allowance", how="drawn").status_code == 200
    assert "1 piece can be added" in page(mine, key)
    done = mine.post(path, data={"by": "script"}, headers=JSON).json()
    assert done["words"] == "Added skirt front"
    assert [p.name for p in load(mine.folder / "Mine").bought.pieces] == ["skirt front"]
    assert inbox.waiting(mine.folder / "Mine") == ()
    sent = {"base": done["revision"], "go": "undo"}
    mine.post(f"{BOOK}/edit", json=sent)
    assert load(mine.folder / "Mine").bought.pieces == ()


def test_every_question_has_its_answer(mine: Desk) -> None:
    """Each card's answer is kept, and the piece follows it."""
    key = brought(mine)
    for form in (
        {"what": "take", "take": "yes"},
        {"what": "name", "name": "my front"},
        {"what": "allowance", "how": "drawn"},
        {"what": "found", "which": "darts", "value": "none"},
        {"what": "found", "which": "notches", "value": "found"},
        {"what": "grain", "grain": "angle", "angle": "45"},
        {"what": "cut", "material.0": "shell", "how.0": "fold", "material.1": "lining",
         "how.1": "fold", "count.1": "2"},
        {"what": "marks"},
        {"what": "corners", "corners": "20 deg"},
        {"what": "all"},
    ):  # fmt: skip
        answer = say(mine, key, **form)
        assert answer.status_code == 200, (form, answer.text)
    assert "state" in page(mine, key, "sitting,table,inbox")
    mine.post(f"{BOOK}/add/confirm?drawing={key}", data={}, headers=HTML)
    (piece,) = load(mine.folder / "Mine").bought.pieces
    assert piece.name == "my front"
    assert piece.darts == ()
    assert piece.marks == ()
    assert piece.grain.direction.angle_deg == pytest.approx(45)
    assert [(c.material, c.how, c.count) for c in piece.cuts] == [
        ("shell", "fold", 1),
        ("lining", "fold", 2),
    ]


def test_edges_are_named_and_one_lies_on_the_fold(mine: Desk) -> None:
    """Names, an allowance of its own and the fold, from the table of edges."""
    key = brought(mine)
    say(mine, key, what="allowance", how="included", amount="5/8 in")
    text = page(mine, key, "sitting")
    names = re.findall(r'name="edge\.\d+" value="([^"]*)"', text)
    k = names.index("bottom")
    form = {f"edge.{n}": name for n, name in enumerate(names)}
    form |= {f"edge.{k}": "hem", f"width.{k}": "2 1/2 in", "fold": "none"}
    assert say(mine, key, what="edges", **form).status_code == 200
    mine.post(f"{BOOK}/add/confirm?drawing={key}", data={}, headers=HTML)
    (piece,) = load(mine.folder / "Mine").bought.pieces
    assert piece.edge("hem").allowance == pytest.approx(63.5)
    assert piece.fold is None


@pytest.mark.parametrize(
    ("form", "words"),
    [
        ({"what": "nothing"}, "was not asked"),
        ({"what": "take", "take": "maybe"}, "is no answer"),
        ({"what": "name", "name": " "}, "no name"),
        ({"what": "name", "name": "a.b"}, "cannot be a name"),
        ({"what": "allowance", "how": "included", "amount": "wide"}, "wide"),
        ({"what": "allowance", "how": "included", "amount": "-3 mm"}, "-3 mm"),
        ({"what": "corner", "at": "x"}, "no place"),
        ({"what": "corner", "at": "9000,9000"}, "not on the outline"),
        ({"what": "corners", "corners": "many"}, "many"),
        ({"what": "edges", "edge.0": "a"}, "changed meanwhile"),
        ({"what": "edges"}, "changed meanwhile"),
        ({"what": "grain", "grain": "angle", "angle": "up?"}, "up?"),
        ({"what": "cut"}, "no material"),
        ({"what": "cut", "material.0": "shell", "how.0": "x"}, "how to cut"),
        ({"what": "cut", "material.0": "shell", "how.0": "once", "count.0": "0"}, "how to cut"),
        ({"what": "found", "which": "name", "value": "found"}, "is no answer"),
        ({"what": "size", "scale": "ells"}, "ells"),
        ({"what": "size", "scale": "measured", "tall": "0"}, "0"),
    ],
)
def test_a_bad_answer_is_a_sentence_and_changes_nothing(mine: Desk, form, words) -> None:
    """400 or 409 with what was expected; what had been answered stays."""
    key = brought(mine)
    say(mine, key, what="name", name="kept")
    answer = say(mine, key, **form)
    assert answer.status_code in (400, 409), answer.text
    assert words in answer.json()["sentence"]
    kept = inbox.one_waiting(mine.folder / "Mine", key)
    assert kept.about(0).answers.name == "kept"
    assert page(mine, key)


def zipped() -> bytes:
    """A small archive that would unpack to 50 MB of nothing."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("a.svg", b"\0" * 50_000_000)
    return out.getvalue()


NESTED = (
    b'<svg xmlns="http://www.w3.org/2000/svg" width="40cm" height="40cm" viewBox="0 0 400 400">'
    b'<path id="large" d="M0 0H300V360H0Z"/><path id="small" d="M4 9H280V330H4Z"/>'
    b'<path id="pocket" d="M50 50H150V160H50Z"/><path d="M60 60V120"/></svg>'
)


def test_lines_in_each_other_are_sizes_marks_or_pieces(mine: Desk) -> None:
    """The line inside may be the piece's own, a mark that is kept, or a piece of its own."""
    key = parse_qs(urlsplit(take_in(mine, "n.svg", NESTED).json()["address"]).query)["drawing"][0]
    assert "Closed lines lie in each other" in page(mine, key)
    form = {"what": "nested", "outline": "2", "inside.2": "piece"}
    assert say(mine, key, **form).status_code == 200
    assert say(mine, key, what="allowance", how="none").status_code == 200
    path = f"{BOOK}/add/answer?drawing={key}&piece=1002"
    answer = mine.post(path, data={"what": "allowance", "how": "none"}, headers=HTML)
    assert answer.status_code == 303
    assert mine.client.get(answer.headers["location"], headers=HTML).status_code == 200
    mine.post(f"{BOOK}/add/confirm?drawing={key}", data={}, headers=HTML)
    sizes = {}
    for piece in load(mine.folder / "Mine").bought.pieces:
        low, high = piece.outline.bounds()
        sizes[piece.name] = (round(high.x - low.x), round(high.y - low.y), len(piece.marks))
    assert sizes == {"small": (276, 321, 0), "pocket": (100, 110, 1)}


def test_a_line_inside_kept_as_a_mark(mine: Desk) -> None:
    """It is drawn inside the piece, under its own name."""
    key = parse_qs(urlsplit(take_in(mine, "n.svg", NESTED).json()["address"]).query)["drawing"][0]
    assert say(mine, key, what="nested", outline="9").status_code == 400
    say(mine, key, **{"what": "nested", "outline": "1", "inside.2": "mark"})
    say(mine, key, what="allowance", how="none")
    mine.post(f"{BOOK}/add/confirm?drawing={key}", data={}, headers=HTML)
    (piece,) = load(mine.folder / "Mine").bought.pieces
    assert "pocket" in {m.name for m in piece.marks}


LAUGHS = (
    b'<!DOCTYPE svg [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;">]>'
    b'<svg xmlns="http://www.w3.org/2000/svg"><text>&c;</text></svg>'
)
OUTSIDE = (
    b'<!DOCTYPE svg [<!ENTITY x SYSTEM "outside.txt">]>'
    b'<svg xmlns="http://www.w3.org/2000/svg"><text>&x;</text></svg>'
)


@pytest.mark.parametrize(
    ("name", "data", "words"),
    [
        ("a.svg", b"", "is empty"),
        ("a.svg", b"   \n", "is empty"),
        ("a.svg", b"\x89PNG\r\n\x1a\n" + b"\0" * 99, "svg"),
        ("a.svg", zipped(), "svg"),
        ("a.svg", LAUGHS, "DOCTYPE"),
        ("a.svg", OUTSIDE, "DOCTYPE"),
        ("a.svg", b"<svg>" + b"<g>" * 5000, "inside each other"),
        ("a.svg", b'<svg xmlns="http://www.w3.org/2000/svg"/>', "no closed outline"),
        ("a.exe", b"MZ", "not read yet"),
        ("a.zip", zipped(), "not read yet"),
        ("noending", b"x", "no ending"),
        ("", b"x", "no name"),
    ],
)
def test_hostile_files_are_a_sentence(mine: Desk, name, data, words) -> None:
    """Nothing is kept of them, and nothing else is lost."""
    answer = take_in(mine, name, data)
    assert answer.status_code == 400, answer.text
    assert words in answer.json()["sentence"]
    assert inbox.waiting(mine.folder / "Mine") == ()
    assert not list((mine.folder / "Mine").glob("inbox/*"))


def test_a_file_too_big_is_refused(mine: Desk) -> None:
    """More than 25 MB is refused before it is read; other addresses take little."""
    answer = take_in(mine, "big.svg", b"x" * 25_000_001)
    assert answer.status_code == 413
    assert "at most 25 MB" in answer.text
    assert mine.post(f"{BOOK}/add/answer", content=b"x" * 100_001).status_code == 413


def test_a_foreign_page_cannot_send_files(mine: Desk) -> None:
    """Another origin is refused, as for every POST."""
    answer = mine.client.post(
        f"{BOOK}/add/file?name=a.svg", content=b"<svg/>", headers={"origin": "http://evil.example"}
    )
    assert answer.status_code == 403


@pytest.mark.parametrize(
    "query", ["drawing=../../x", "drawing=none&piece=7", "drawing=&piece=x", "added=zz"]
)
def test_wrong_addresses_are_answered(mine: Desk, query) -> None:
    """A page in words whatever the address says."""
    assert mine.client.get(f"{BOOK}/add?{query}", headers=HTML).status_code == 200


def test_a_file_can_be_thrown_away(mine: Desk) -> None:
    """It is gone; a second press says so."""
    key = brought(mine)
    path = f"{BOOK}/add/throw?drawing={key}"
    assert mine.post(path, data={"by": "script"}, headers=JSON).status_code == 200
    again = mine.post(path, data={"by": "script"}, headers=JSON)
    assert "no such drawing" in again.json()["sentence"]


# --- seams ---------------------------------------------------------------------------------------


@pytest.fixture
def sewn(mine: Desk) -> Desk:
    """Two skirt pieces taken in (demo data)."""
    for name in ("skirt front", "skirt back"):
        key = brought(mine, name)
        say(mine, key, what="allowance", how="drawn")
        mine.post(f"{BOOK}/add/confirm?drawing={key}", data={"by": "script"}, headers=JSON)
    return mine


def keys(desk: Desk, query: str = "") -> list[str]:
    text = desk.client.get(f"{BOOK}/seams{query}", headers=HTML).text
    return [html.unescape(k) for k in re.findall(r'name="key" value="([^"]*)"', text)]


def one(desk: Desk, **form: str):
    return desk.post(f"{BOOK}/seams/one", data={"by": "script", **form}, headers=JSON)


def test_a_pair_is_confirmed_refused_and_asked_again(sewn: Desk) -> None:
    """Confirmed it is a seam; refused it is not shown until it is asked for again."""
    side, centre = keys(sewn)
    assert side == "skirt back.side / skirt front.side"
    assert one(sewn, key=side, do="confirm", name="my side", ease="").status_code == 200
    (seam,) = load(sewn.folder / "Mine").bought.seams
    assert (seam.name, seam.ease) == ("my side", 0.0)
    assert one(sewn, key=centre, do="refuse").status_code == 200
    assert keys(sewn) == []
    sewn.post(f"{BOOK}/seams/again", data={"by": "script"}, headers=JSON)
    assert keys(sewn) == [centre]


def test_all_at_once(sewn: Desk) -> None:
    """All as shown are one step, and the walk then has a verdict."""
    answer = sewn.post(f"{BOOK}/seams/all", data={"by": "script"}, headers=JSON)
    assert answer.status_code == 200, answer.text
    assert len(load(sewn.folder / "Mine").bought.seams) == 2
    assert "2 seams agree" in sewn.client.get(f"{BOOK}/walk", headers=HTML).text
    again = sewn.post(f"{BOOK}/seams/all", data={"by": "script"}, headers=JSON)
    assert again.status_code == 409


def test_a_pair_of_ones_own(sewn: Desk) -> None:
    """Any two edges are laid along each other and may be sewn; turned round when asked."""
    query = "?a=skirt+front.waist&b=skirt+back.waist"
    first = keys(sewn, query)[0]
    assert first == "skirt back.waist / skirt front.waist"
    a, b = "skirt front.waist", "skirt back.waist"
    answer = one(sewn, key=first, do="confirm", a=a, b=b, name="x", ease="2 mm", turn="yes")
    assert answer.status_code == 200, answer.text
    assert load(sewn.folder / "Mine").bought.seams[0].ease == pytest.approx(2.0)


@pytest.mark.parametrize(
    ("form", "words"),
    [
        ({"key": "no / such", "do": "confirm"}, "was not sewn"),
        ({"key": "x", "do": "confirm", "a": "front", "b": "back"}, "does not name an edge"),
        ({"key": "x", "do": "confirm", "a": "skirt front.hen", "b": "x.y"}, "Did you mean"),
        ({"key": "skirt back.side / skirt front.side", "do": "confirm", "ease": "much"}, "much"),
        ({"key": "skirt back.side / skirt front.side", "do": "confirm", "name": "a.b"}, "a.b"),
    ],
)
def test_what_cannot_be_sewn_is_a_sentence(sewn: Desk, form, words) -> None:
    """400 or 409, nothing added."""
    answer = one(sewn, **form)
    assert answer.status_code in (400, 409)
    assert words in answer.json()["sentence"]
    assert load(sewn.folder / "Mine").bought.seams == ()


def test_a_named_seam_is_set_anew_on_the_page(sewn: Desk) -> None:
    """Its form says what it is; what is sent is kept, and told in the list."""
    sewn.post(f"{BOOK}/seams/all", data={"by": "script"}, headers=JSON)
    form = {"by": "script", "seam": "skirt side", "join": "pleated"}
    form |= {"name": "skirt side", "folds": "2", "fold_to": "inverted", "up_to": "1 in"}
    answer = sewn.post(f"{BOOK}/seams/set", data={**form, "ease": "2 in"}, headers=JSON)
    assert answer.status_code == 303 or answer.json()["words"]
    (seam,) = (s for s in load(sewn.folder / "Mine").bought.seams if s.name == "skirt side")
    assert (seam.join, seam.folds, seam.fold_to) == ("pleated", 2, "inverted")
    assert abs(seam.ease) == pytest.approx(50.8)
    text = html.unescape(sewn.client.get(f"{BOOK}/seams", headers=HTML).text)
    assert "Laid in 2 inverted pleats, each" in text
    wrong = sewn.post(f"{BOOK}/seams/set", data={**form, "join": "knotted"}, headers=JSON)
    assert "knotted" in wrong.json()["sentence"]


def test_a_wrong_pair_in_the_address_is_told(sewn: Desk) -> None:
    """The page says what is wrong with it and shows the others."""
    text = sewn.client.get(f"{BOOK}/seams?a=nothing.x&b=skirt+back.side", headers=HTML).text
    assert "no piece" in text
    assert "skirt side" in text


def test_pieces_are_said_to_go_together_on_the_page(sewn: Desk) -> None:
    """Two of her own choice; what cannot be is a sentence; taken out by an edit."""
    form = {"by": "script", "piece": "skirt back", "other": "skirt front", "kind": "lining"}
    answer = sewn.post(f"{BOOK}/seams/together", data=form, headers=JSON)
    assert answer.status_code == 200, answer.text
    (one,) = load(sewn.folder / "Mine").bought.companions
    assert {a.edge for a in one.of} >= {"side"}
    text = sewn.client.get(f"{BOOK}/seams", headers=HTML).text
    assert "<b>skirt back</b>, as lining: with skirt front (" in text
    again = sewn.post(f"{BOOK}/seams/together", data=form, headers=JSON)
    assert "said already" in again.json()["sentence"]
    none = {"by": "script", "piece": "no such"}
    wrong = sewn.post(f"{BOOK}/seams/together", data=none, headers=JSON)
    assert "no proposal" in wrong.json()["sentence"].lower()
