"""Pictures of cloths: whole, under plain names, named by the workbook, gone with their steps."""

from __future__ import annotations

import os
import time

import pytest

from clothwright.cloth.prints import PrintPicture
from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.errors import BadInput, Mistakes
from clothwright.store import create, keep_picture, load, opened, picture, pictures_named, undo
from clothwright.store.book.picture_name import is_picture_name, picture_type
from clothwright.store.book.pictures import drop_pictures
from clothwright.workroom.editing.committing import commit_edit
from clothwright.workroom.editing.edits.cloths import RemovePicture, SetPicture

PNG = b"\x89PNG\r\n\x1a\n" + bytes(60)
JPEG = b"\xff\xd8\xff" + bytes(60)
BOOK = checked_waistcoat()
CLOTH = BOOK.cloths[0].name


@pytest.fixture
def folder(tmp_path):
    create(tmp_path / "w", BOOK)
    return tmp_path / "w"


def test_a_picture_is_kept_once_under_a_name_of_its_contents(folder):
    """The same bytes have the same name; other bytes another; each comes back to the letter."""
    name = keep_picture(folder, PNG)
    assert name == keep_picture(folder, PNG)
    assert name != keep_picture(folder, JPEG)
    assert picture(folder, name) == PNG
    assert len(list((folder / "pictures").iterdir())) == 2
    assert picture_type(name) == "image/png"
    assert picture_type(keep_picture(folder, JPEG)) == "image/jpeg"


@pytest.mark.parametrize("data", [b"", b"GIF89a", b"<svg/>", JPEG + bytes(8_000_000)])
def test_what_is_no_picture_or_too_large_is_not_kept(folder, data):
    """Only JPEG and PNG up to the limit; nothing is written else."""
    with pytest.raises(BadInput):
        keep_picture(folder, data)
    assert not (folder / "pictures").exists()


@pytest.mark.parametrize(
    "name",
    [
        "../workbook.toml",
        "a/b.png",
        "a\\b.png",
        "c:x.png",
        ".x.png",
        "x..png",
        "con.png",
        "x.svg",
        "x.png/",
        "x" * 99 + ".png",
        "",
        "x\n.png",
    ],
)
def test_names_outside_the_folder_are_refused(folder, name):
    """No separator, drive, dots first or twice, device name, or other ending."""
    assert not is_picture_name(name)
    with pytest.raises(BadInput):
        picture(folder, name)
    with pytest.raises((BadInput, Mistakes)):
        commit_edit(
            folder,
            SetPicture(cloth=CLOTH, values={"file": name, "width": "6 cm", "height": "9 cm"}),
            base=opened(folder).revision,
        )


def test_a_link_to_elsewhere_is_not_followed(folder, tmp_path):
    """A picture that is a link, or a folder that is one, is as good as none."""
    (tmp_path / "secret.png").write_bytes(PNG)
    (folder / "pictures").mkdir()
    (folder / "pictures" / "x.png").symlink_to(tmp_path / "secret.png")
    with pytest.raises(BadInput):
        picture(folder, "x.png")


def test_a_picture_is_set_taken_away_and_undone(folder):
    """One step each; the other figures of the print stay; undo names the picture again."""
    before = load(folder).cloth(CLOTH).print
    name = keep_picture(folder, JPEG)
    values = {"file": name, "width": "6 cm", "height": 14, "along": "2 cm"}
    done = commit_edit(folder, SetPicture(cloth=CLOTH, values=values), base=opened(folder).revision)
    design = load(folder).cloth(CLOTH).print
    assert design.picture == PrintPicture(file=name, width=60.0, height=140.0, along=20.0)
    assert (design.borders, design.repeat_along) == (before.borders, before.repeat_along)
    assert pictures_named(load(folder)) == (name,)
    commit_edit(folder, RemovePicture(cloth=CLOTH), base=done.revision)
    assert load(folder).cloth(CLOTH).print == before
    undo(folder)
    assert load(folder).cloth(CLOTH).print == design
    assert picture(folder, name) == JPEG


def test_pictures_that_no_step_names_are_dropped(folder):
    """Ours, an hour old and named by no text, go; named ones and the maker's own stay."""
    old, named, young = (keep_picture(folder, JPEG + bytes([k])) for k in range(3))
    (folder / "pictures" / "mine.png").write_bytes(PNG)
    for name in (old, named, "mine.png"):
        os.utime(folder / "pictures" / name, (time.time() - 7200,) * 2)
    assert drop_pictures(folder, [f'file = "{named}"']) == 1
    assert {f.name for f in (folder / "pictures").iterdir()} == {named, young, "mine.png"}
