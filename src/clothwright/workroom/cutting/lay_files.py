"""The lay plan as files: each cloth, as it lies folded too, and the print on each garment."""

from __future__ import annotations

from clothwright.drawing.folded import folded_picture
from clothwright.drawing.lay import lay_picture
from clothwright.drawing.style import TABLE
from clothwright.drawing.wearing import garment_pictures, has_print
from clothwright.errors import BadInput, one_of
from clothwright.outputs import svg
from clothwright.outputs.guide_pdf import guide_pdf
from clothwright.outputs.paper import parse_paper
from clothwright.outputs.writer import OutFile
from clothwright.picture.document import Document, Illustration
from clothwright.picture.picture import PhotoFiles, Picture
from clothwright.rules.weighing.laid import Laid
from clothwright.units import Unit

SCREEN_MM = 480.0


def cloth_pictures(laid: Laid, unit: Unit) -> dict[str, Picture]:
    """Return each cloth of a lay, and each as it lies folded, by their files' names."""
    cloths = [name for name, used in laid.lay.used.items() if used > 0]
    out = {
        f"lay-{name}": lay_picture(laid.compiled, laid.lay, name, unit, folds=laid.folds)
        for name in cloths
    }
    for fold in laid.folds:
        out[f"lay-{fold.cloth}-folded"] = folded_picture(laid.compiled, laid.lay, fold, unit)
    return out


def worn_pictures(laid: Laid) -> dict[str, Picture]:
    """Return the print on each garment of a lay, by their files' names; none without a print."""
    if not has_print(laid):
        return {}
    return {f"garment-{name}": picture for name, picture in garment_pictures(laid).items()}


def lay_files(laid: Laid, unit: Unit, photos: PhotoFiles) -> tuple[OutFile, ...]:
    """Return every picture of a lay, as an SVG and as a PDF of one page each.

    photos: of the cloths, which the pictures hold once each.
    """
    return _files({**cloth_pictures(laid, unit), **worn_pictures(laid)}, photos)


def garment_files(laid: Laid, photos: PhotoFiles) -> tuple[OutFile, ...]:
    """Return the print on each garment of a lay, as an SVG and as a PDF of one page each."""
    return _files(worn_pictures(laid), photos)


def _files(pictures: dict[str, Picture], photos: PhotoFiles) -> tuple[OutFile, ...]:
    return tuple(
        OutFile(f"{name}.{kind}", picture_file(picture, kind, photos))
        for name, picture in pictures.items()
        for kind in ("svg", "pdf")
    )


def cloth_file(laid: Laid, unit: Unit, cloth: str, kind: str, photos: PhotoFiles) -> OutFile:
    """Return the lay on a cloth ("" = the first) as a file. kind: "svg" or "pdf". BadInput."""
    return _file(cloth_pictures(laid, unit), "lay-", cloth, kind, photos)


def garment_file(laid: Laid, name: str, photos: PhotoFiles) -> OutFile:
    """Return the print on a garment as a PDF. Raises BadInput."""
    return _file(worn_pictures(laid), "garment-", name, "pdf", photos)


def _file(
    pictures: dict[str, Picture], lead: str, name: str, kind: str, photos: PhotoFiles
) -> OutFile:
    """Return one of the pictures, whose files' names begin with `lead`; "" for the first."""
    known = {file.removeprefix(lead): picture for file, picture in pictures.items()}
    name = name or next(iter(known), "")
    if name not in known:
        raise BadInput(what=f'there is no "{name[:60]}" in this lay', expected=one_of(known))
    return OutFile(f"{lead}{name}.{kind}", picture_file(known[name], kind, photos))


def picture_file(picture: Picture, kind: str, photos: PhotoFiles) -> bytes:
    """Return a picture as an SVG for the screen, or as a PDF of one A3 page, reduced to fit."""
    picture = picture.with_photos(photos)
    if kind == "svg":
        return svg.svg(picture, look=TABLE, width=SCREEN_MM, alt=picture.title).encode()
    figure = Illustration(picture=picture, alt=picture.title, width=390.0)
    page = Document(title=picture.title, blocks=(figure,))
    return guide_pdf(page, paper=parse_paper("420 x 297 mm", unit=Unit.mm))
