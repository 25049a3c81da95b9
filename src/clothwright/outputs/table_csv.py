"""A table as comma-separated values, for a spreadsheet."""

from __future__ import annotations

import csv
import io

from clothwright.picture.document import Table


def table_csv(table: Table) -> bytes:
    """Return a table as RFC 4180 comma-separated values in UTF-8 with a byte order mark.

    The mark lets spreadsheets read accents and fractions right. A cell that a spreadsheet would
    take for a formula gets an apostrophe in front, unless it is a figure with its sign.
    """
    out = io.StringIO(newline="")
    rows = csv.writer(out, lineterminator="\r\n")
    rows.writerow([_safe(cell) for cell in table.head])
    rows.writerows([_safe(cell) for cell in row] for row in table.rows)
    return b"\xef\xbb\xbf" + out.getvalue().encode("utf-8")


def _safe(cell: str) -> str:
    is_signed_figure = cell[:1] in ("+", "-") and cell[1:2].isdigit()
    if cell.startswith(("=", "+", "-", "@", "\t", "\r")) and not is_signed_figure:
        return "'" + cell
    return cell
