"""A first look at a page of one of our PDFs, as pixels."""

from __future__ import annotations

import io

import pypdfium2

from clothwright.errors import BadInput


def png_of_page(pdf: bytes, page: int = 0, *, dots_per_inch: float = 96.0) -> bytes:
    """Return one page of a PDF as a PNG (dots per inch); pages count from 0. For the eye only.

    Raises BadInput when the file has no such page.
    """
    with pypdfium2.PdfDocument(pdf) as document:
        if not 0 <= page < len(document):
            raise BadInput(
                what=f"there is no page {page + 1}", expected=f"a page from 1 to {len(document)}"
            )
        bitmap = document[page].render(scale=dots_per_inch / 72)
        out = io.BytesIO()
        bitmap.to_pil().save(out, format="PNG")
        return out.getvalue()
