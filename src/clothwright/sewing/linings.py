"""Linings, sewn to facings and hems."""

from __future__ import annotations

from clothwright.sewing.operation import Operation, seams_of, side

OPERATION = Operation(
    id="linings",
    steps=seams_of("lining", lambda seam: (f"Sew {side(seam.b)} to {side(seam.a)}.",)),
    sews="lining",
)
