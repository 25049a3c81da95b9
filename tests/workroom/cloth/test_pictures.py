"""Photos of cloths for files that show them: whole ones come, others are told."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from clothwright.cloth.prints import PrintPicture
from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.drawing.style import TABLE
from clothwright.geometry.path import rectangle
from clothwright.geometry.vec import Vec
from clothwright.outputs.pdf_canvas import PagePart, PdfPage, pdf_of_pages
from clothwright.picture.picture import DrawnPhoto, Picture
from clothwright.store import create, keep_picture
from clothwright.workbook import Workbook
from clothwright.workroom.cloth import pictures
from clothwright.workroom.cloth.pictures import lost_words, photos_in


def photo(kind: str) -> bytes:
    """Return a small photo."""
    out = BytesIO()
    Image.radial_gradient("L").save(out, kind)
    return out.getvalue()


def kept(folder: Path, data: bytes) -> tuple[Workbook, str]:
    """Return a workbook in a folder whose first cloth is drawn by a photo, and the photo's name."""
    book = checked_waistcoat()
    create(folder, book)
    name = keep_picture(folder, data)
    cloth = book.cloths[0]
    design = replace(cloth.print, picture=PrintPicture(file=name, width=60.0, height=40.0))
    return replace(book, cloths=(replace(cloth, print=design), *book.cloths[1:])), name


@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_a_whole_photo_comes_and_nothing_is_said(tmp_path: Path, kind: str) -> None:
    """What is in the file, to the byte."""
    book, name = kept(tmp_path / "w", photo(kind))
    assert photos_in(tmp_path / "w")(name) == photo(kind)
    assert lost_words(book, tmp_path / "w") == ()


@pytest.mark.parametrize(
    "data",
    [
        photo("PNG")[:300],
        photo("JPEG")[:300],
        b"\x89PNG\r\n\x1a\n" + bytes(60),
        b"\xff\xd8\xff" + bytes(60),
        photo("JPEG")[:40] + bytes(900),
    ],
)
def test_a_damaged_photo_is_told_and_drawn_without(tmp_path: Path, data: bytes) -> None:
    """Cut off or garbled: the cloth's name and what to do; a page is printed all the same."""
    book, name = kept(tmp_path / "w", photo("JPEG"))
    assert lost_words(book, tmp_path / "w") == ()
    (tmp_path / "w" / "pictures" / name).write_bytes(data)
    (words,) = lost_words(book, tmp_path / "w")
    assert book.cloths[0].name in words
    assert "take the print from the photo again" in words
    item = DrawnPhoto(
        file=name, wide=60.0, tall=40.0, spots=(Vec(0, 0),), clip=rectangle((0, 0), (60, 40))
    )
    picture = Picture(items=(item,)).with_photos(photos_in(tmp_path / "w"))
    assert picture.items == ()
    page = PdfPage(60.0, 40.0, "1", (PagePart(picture, TABLE),))
    assert pdf_of_pages([page], "t").startswith(b"%PDF")


def test_a_photo_is_read_once_and_anew_when_its_file_is_another(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The pages that say what is lost are looked at often; the file is opened for the first."""
    book, name = kept(tmp_path / "w", photo("JPEG"))
    read: list[str] = []
    before = pictures.pictures_in

    def counted(folder: Path) -> Callable[[str], bytes]:
        return lambda one: (read.append(one), before(folder)(one))[1]

    monkeypatch.setattr(pictures, "pictures_in", counted)
    for _ in range(3):
        assert lost_words(book, tmp_path / "w") == ()
    assert read == [name]
    (tmp_path / "w" / "pictures" / name).write_bytes(photo("PNG"))
    assert lost_words(book, tmp_path / "w") == ()
    (tmp_path / "w" / "pictures" / name).unlink()
    assert len(lost_words(book, tmp_path / "w")) == 1
    assert read == [name, name]
