"""What closes the garment, while it still lies flat."""

from __future__ import annotations

from clothwright.sewing.operation import Operation, seams_of, side

OPERATION = Operation(
    id="closures",
    steps=seams_of(
        "closure", lambda seam: (f"Put in the closure between {side(seam.a)} and {side(seam.b)}.",)
    ),
    sews="closure",
)
