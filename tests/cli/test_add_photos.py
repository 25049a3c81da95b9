"""Photos of a paper piece on the command line: together, measured, corrected (simulated photos)."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from clothwright.cli.app import run
from clothwright.errors import BadInput
from clothwright.photo.photographed import moves_from
from clothwright.store import load
from clothwright.units import Unit
from clothwright.words import told
from tests.photo.taken import BAR, jpegs


def said(capsys, *argv):
    code = run([str(a) for a in argv])
    out = capsys.readouterr()
    return code, " ".join(out.out.split()), out.err


def test_several_photos_corrected_by_hand(tmp_path, monkeypatch, capsys):
    """A place is pulled by 3 mm: the piece's line goes there, and says by how far."""
    monkeypatch.chdir(tmp_path)
    files = [Path(f"front {k}.jpg") for k in (1, 2)]
    for file, data in zip(files, jpegs(), strict=False):
        file.write_bytes(data)
    assert run(["new", "mine", "--unit", "cm"]) == 0
    argv = ["add", "mine", *files, "--bar", BAR, "--name", "front", "--allowance", "none"]
    assert said(capsys, *argv, "--show", "flat.png")[0] == 0
    (plain,) = load(Path("mine")).bought.pieces
    assert re.fullmatch(
        r"from 2 photos, within 0\.\d mm; 2 doubtful places not looked at", plain.note
    )
    left = max((e.path for e in plain.edges), key=lambda p: p.length)
    at = left.point_at(left.length / 2)
    text = f"{at.x:.1f},{at.y:.1f} by -3,0; 5,5 by 1,1"
    code, _, err = said(capsys, *argv, "--replace", "--correct", text)
    assert code == 2
    assert "from the left, 0.5 cm from below is not on the outline" in " ".join(err.split())
    code, out, _ = said(capsys, *argv, "--replace", "--correct", text.split(";", maxsplit=1)[0])
    assert code == 0
    assert "corrected by hand, by 3 mm at most" in out
    (moved,) = load(Path("mine")).bought.pieces
    to = (round(at.x, 1) - 3.0, round(at.y, 1))
    assert min(e.path.nearest(to)[1] for e in moved.edges) < 0.1
    assert "corrected by hand, by 3 mm at most" in moved.note


def test_corrections_are_read_and_refused_in_words():
    """Places, directions, out; anything else is a sentence."""
    (one, two) = moves_from("at 120,35 by 2,-0.5; 60.5 , 300 out")
    assert one == ((120, 35), (122, 34.5))
    assert two == ((60.5, 300), None)
    assert moves_from("") == ()
    for bad in ("120", "120,35 by 2", "1,2 by a,b", "1,2 away", "1;2 out"):
        with pytest.raises(BadInput, match="is no correction"):
            moves_from(bad)


def test_corrections_are_said_in_her_unit():
    """Where a doubt is told in inches, its correction is typed in inches; the example too."""
    (one, two) = moves_from("4 3/4 in, 1 in by -1/16 in, 0 in; 2 in,12 in out")
    assert one == (pytest.approx((120.65, 25.4)), pytest.approx((119.0625, 25.4)))
    assert two == (pytest.approx((50.8, 304.8)), None)
    with pytest.raises(BadInput) as refused:
        moves_from("here")
    said = told(refused.value, Unit.inch)
    example = re.search(r'such as "([^"]+)"', said)
    assert example is not None
    assert " mm" not in said
    assert len(moves_from(example[1])) == 1


def test_the_bar_is_spoken_of_in_her_unit(tmp_path, monkeypatch, capsys):
    """Taken to be as drawn when she does not say; doubted when her ruler says far otherwise."""
    monkeypatch.chdir(tmp_path)
    Path("front.jpg").write_bytes(next(iter(jpegs())))
    assert run(["new", "mine", "--unit", "in"]) == 0
    argv = ["add", "mine", "front.jpg", "--name", "front", "--allowance", "none", "--dry-run"]
    code, out, _ = said(capsys, *argv)
    assert code == 0
    assert "the bar on the marker sheets was taken to be 7 7/8 in long" in out
    code, out, _ = said(capsys, *argv, "--bar", "7 1/2 in")
    assert code == 0
    assert "the bar is 7 1/2 in long by your ruler, far from 7 7/8 in" in out
    assert "taken to be" not in out
    assert "mm" not in out


def test_only_photos_are_corrected(tmp_path, monkeypatch, capsys):
    """A drawing is corrected where it is drawn."""
    monkeypatch.chdir(tmp_path)
    assert run(["new", "mine"]) == 0
    Path("a.svg").write_text("<svg/>", encoding="utf-8")
    code, _, err = said(capsys, "add", "mine", "a.svg", "--correct", "1,2 out")
    assert code == 2
    assert "only photos" in err.lower()


def test_the_edge_of_the_paper_is_followed_when_it_is_said(tmp_path, monkeypatch, capsys):
    """--follow edge takes the sheet the front is drawn on; another word is refused; not for SVG."""
    monkeypatch.chdir(tmp_path)
    Path("front.jpg").write_bytes(jpegs()[0])
    Path("front.svg").write_text("<svg/>")
    assert run(["new", "mine", "--unit", "cm"]) == 0
    argv = ["add", "mine", "front.jpg", "--bar", BAR, "--allowance", "none", "--dry-run"]
    code, out, _ = said(capsys, *argv, "--follow", "edge")
    assert code == 0
    assert "the outline follows the edge of the paper" in out
    code, _, err = said(capsys, *argv, "--follow", "moon")
    assert code == 2
    assert '"line" or "edge"' in err
    code, _, err = said(capsys, "add", "mine", "front.svg", "--follow", "edge")
    assert code == 2
    assert "--follow" in err
