"""Facings, sewn on and turned."""

from __future__ import annotations

from clothwright.sewing.operation import Operation, seams_of, side

OPERATION = Operation(
    id="facings",
    steps=seams_of("facing", lambda seam: (f"Sew {side(seam.b)} to {side(seam.a)}.",)),
    sews="facing",
)
