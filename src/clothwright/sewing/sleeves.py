"""Sleeves, each cap set into its armhole."""

from __future__ import annotations

from clothwright.sewing.operation import Operation, seams_of, side

OPERATION = Operation(
    id="sleeves",
    steps=seams_of("cap", lambda seam: (f"Set {side(seam.b)} into {side(seam.a)}.",)),
    sews="cap",
)
