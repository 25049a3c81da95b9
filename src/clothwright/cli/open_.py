"""clothwright open: the workbook as a page in the browser."""

from __future__ import annotations

import webbrowser
from pathlib import Path
from typing import Annotated

from cyclopts import Parameter, validators

from clothwright.cli.saying import out


def open_(
    workbook: Path = Path(),
    *,
    share: bool = False,
    port: Annotated[int, Parameter(validator=validators.Number(gte=0, lte=65535))] = 0,
    browser: bool = True,
) -> None:
    """Open a workbook, or a folder of them, as a page in the browser; Ctrl-C ends it.

    The page is served by this program, on this machine alone, and fetches nothing from outside.
    With --share a phone or tablet in the same house can open it too: by a key that is good once,
    in a square for its camera. On the way through the house it is not enciphered, so share on a
    network you trust.

    Parameters
    ----------
    workbook
        A workbook's folder; without it, a start page for the workbooks in the current folder.
    share
        Also serve the house network, with a one-time key for each device.
    port
        The port to serve on; 0 takes a free one.
    browser
        Open the browser (--no-browser does not).
    """
    from clothwright.web.serve import prepare  # noqa: PLC0415  (0.2 s the other commands save)

    served = prepare(workbook, port=port, share=share)
    books = served.room.shelf() if served.room.only else ()
    address = served.address + (f"/b/{books[0].name}/pieces" if books else "/")
    out.print(f"Open: {address}")
    if served.house:
        from clothwright.web.pages.share import terminal_square  # noqa: PLC0415

        link = f"{served.room.shared_at}/enter?key={served.keys.make_key()}"
        out.print("Another device: read this with its camera within ten minutes.")
        out.print(terminal_square(link), highlight=False)
        out.print(link)
    out.print("Ctrl-C ends it; everything is saved as you go.")
    if browser:
        webbrowser.open(address)
    served.run()
