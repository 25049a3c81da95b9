"""What a line of a DXF file is drawn with: its layer, dashes, colour and width."""

from __future__ import annotations

from typing import Any

from ezdxf.colors import aci2rgb, int2rgb

from clothwright.intake.pen import DrawnPen

BY_BLOCK, BY_LAYER = 0, 256
USUAL = 0.25
"""mm: the width of a line of which nothing is said (DXF reference: the default line weight)."""


def pen_of(file: Any, entity: Any, layer: str, *, named: bool, scale: float) -> DrawnPen:
    """Return the pen of an entity that lies on a layer.

    named: the layer's name may say something. scale: mm of the file's unit.
    """
    of = file.layers.get(layer) if layer in file.layers else None
    source = getattr(entity, "source_block_reference", None)
    colour = entity.dxf.get("color", BY_LAYER)
    if colour == BY_BLOCK and source is not None:
        colour = source.dxf.get("color", BY_LAYER)
    if colour == BY_LAYER and of is not None:
        colour = of.dxf.get("color", 7)
    true = entity.dxf.get("true_color")
    rgb = int2rgb(true) if true is not None else aci2rgb(min(max(abs(int(colour)), 1), 255))
    kind = str(entity.dxf.get("linetype", "BYLAYER"))
    if kind.upper() == "BYLAYER" and of is not None:
        kind = str(of.dxf.get("linetype", "CONTINUOUS"))
    weight = entity.dxf.get("lineweight", -1)
    weight = of.dxf.get("lineweight", -3) if weight == -1 and of is not None else weight
    return DrawnPen(
        width=weight / 100 if weight >= 0 else USUAL,
        dash=_dashes(file, kind, scale),
        colour="#{:02x}{:02x}{:02x}".format(*rgb),
        layer=layer if named and layer != "0" else "",
        shown=True,
        filled=False,
    )


def _dashes(file: Any, kind: str, scale: float) -> tuple[float, ...]:
    if kind not in file.linetypes:
        return ()
    return tuple(round(d * scale, 4) for d in file.linetypes.get(kind).simplified_line_pattern())
