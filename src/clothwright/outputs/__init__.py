"""From pictures to the outside: full-size pages, drawings, guides, tables.

A writer takes a picture, a document or a table and returns bytes; where they go is not its
business. `WRITERS` lists every kind of file.
"""

from clothwright.outputs import dxf, guide_md, guide_pdf, sheet_pdf, svg, table_csv, tiled_pdf
from clothwright.outputs.writer import Writer

WRITERS: tuple[Writer, ...] = (
    tiled_pdf.WRITER,
    sheet_pdf.WRITER,
    svg.WRITER,
    dxf.WRITER,
    guide_md.WRITER,
    guide_pdf.WRITER,
    table_csv.WRITER,
)
