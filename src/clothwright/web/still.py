"""How pages look and what runs in them: the files of `static`, at addresses that carry a stamp.

The stamp is of what the files hold, so that what stands at an address never changes and a browser
that has it asks no more; after an update of the program pages name other addresses.
"""

from __future__ import annotations

import re
from functools import cache
from hashlib import blake2b
from pathlib import Path

FOLDER = Path(__file__).with_name("static")


def stamp_of(folder: Path) -> str:
    """Return a stamp of the files of a folder: other names or other bytes, another stamp."""
    found = blake2b(digest_size=8)
    for file in sorted(f for f in folder.rglob("*") if f.is_file()):
        held = file.read_bytes()
        found.update(f"{file.relative_to(folder).as_posix()} {len(held)} ".encode() + held)
    return found.hexdigest()


STILL = f"/static/at-{stamp_of(FOLDER)}"
"""The address of the files as they are; one of another stamp gives the same, not to be kept."""
KEPT_S = 31_536_000
"""How long a browser may keep a file of this stamp: a year, in seconds (RFC 9111, 5.2.2.1)."""


@cache
def reached(modules: tuple[str, ...]) -> tuple[str, ...]:
    """Return ES modules (files in static/js) and all they import, to be asked for all at once."""
    found = list(modules)
    for name in found:  # grows as it goes
        text = (FOLDER / "js" / name).read_text(encoding="utf-8")
        others = re.findall(r'^(?:import|export) .* from "\./(.+)";$', text, re.MULTILINE)
        found += [other for other in others if other not in found]
    return tuple(found)
