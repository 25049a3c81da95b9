"""Plain seams: two edges, right sides together."""

from __future__ import annotations

from clothwright.sewing.operation import Operation, seams_of, side

OPERATION = Operation(
    id="seams",
    steps=seams_of("plain", lambda seam: (f"Sew {side(seam.a)} to {side(seam.b)}.",)),
)
