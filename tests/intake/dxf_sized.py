"""Two pieces in three sizes as DXF, by two writers that share nothing: ezdxf, and tags by hand.

What they draw is said here in formulas (demo data): a front with a dart, a curved side and a notch,
and a narrower back. The truth a test holds a file against is these formulas, not what was written.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

import ezdxf

P = tuple[float, float]
STEPS: Mapping[str, float] = {"10": 0.0, "12": 15.0, "14": 30.0}


@dataclass(frozen=True, kw_only=True)
class Drawn:
    """A piece in a size: straight lines, the side as a cubic, words; mm from its lower left."""

    name: str
    lines: tuple[tuple[P, P], ...]
    side: tuple[P, P, P, P]
    dart: tuple[P, P, P]
    notch: P
    ticks: tuple[tuple[P, P], ...]

    def on_side(self, share: float) -> P:
        """A point of the side by the formula of a cubic."""
        t = share
        w = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
        x, y = (sum(k * p[i] for k, p in zip(w, self.side, strict=True)) for i in (0, 1))
        return x, y

    def truth(self) -> list[P]:
        """Points on the outline: all corners and 50 of the side."""
        return [p for line in self.lines for p in line] + [self.on_side(k / 50) for k in range(51)]


def piece(name: str, size: str) -> Drawn:
    """The front, or the back, which is 30 mm narrower and 40 mm longer."""
    d, narrow, tall = STEPS[size], *((0.0, 0.0) if name == "front" else (30.0, 40.0))
    hem, waist, top = 240 + d - narrow, 200 + d - narrow, 600 + d / 2 + tall
    side = ((hem, 0.0), (hem + 5, 200.0), (waist + 30, 400.0), (waist, top))
    a, b, point = (waist - 90, top), (waist - 65, top), (waist - 77, top - 110)
    lines = (((0.0, top), (0.0, 0.0)), ((0.0, 0.0), (hem, 0.0)), ((waist, top), (0.0, top)))
    made = Drawn(
        name=name, lines=lines, side=side, dart=(a, point, b), notch=(0.0, 300.0), ticks=()
    )
    tick = ((0.0, 300.0), (8.0, 300.0))
    return Drawn(**{**made.__dict__, "ticks": (tick, (a, point), (point, b))})


Words = Callable[[str, str], Iterable[str]]
"""From a piece's name and a size to the lines written in it."""
NO_WORDS: Words = lambda name, size: ()  # noqa: E731


def labelled(name: str, size: str) -> list[str]:
    """Words with labels, as files made for pattern programs have them."""
    return [f"PIECE NAME: {name.upper()}", f"SIZE: {size}", "QUANTITY: 2", "STYLE NAME: ANNA"]


class ByLibrary:
    """Written by ezdxf: lines or polylines, and the side as a spline of its four points."""

    def __init__(self, version: str = "R2010", *, poly: bool = False, paragraph: bool = False):
        self.file = ezdxf.new(version)
        self.file.header["$INSUNITS"] = 4
        self.poly, self.paragraph = poly, paragraph

    def block(self, name: str, at: P = (0.0, 0.0), fields: Mapping[str, str] | None = None):
        """Begin a block used once at a place; return where to draw."""
        made = self.file.blocks.new(name)
        used = self.file.modelspace().add_blockref(name, at)
        for k, (tag, text) in enumerate((fields or {}).items()):
            used.add_attrib(tag, text, (at[0] + 60, at[1] + 200 + 10 * k))
        return made

    def draw(self, one: Drawn, words: Iterable[str], at: P, layer: str = "0", space=None) -> None:
        """Draw a piece with its lower left corner at a place."""
        space = self.file.modelspace() if space is None else space

        def to(p: P) -> P:
            return p[0] + at[0], p[1] + at[1]

        on = {"layer": layer}
        (top, foot), (_, hem), (waist, _) = one.lines
        if self.poly:
            space.add_lwpolyline([to(p) for p in (waist, top, foot, hem)], dxfattribs=on)
        else:
            for a, b in one.lines:
                space.add_line(to(a), to(b), dxfattribs=on)
        space.add_open_spline([(*to(p), 0.0) for p in one.side], degree=3, dxfattribs=on)
        for a, b in one.ticks:
            space.add_line(to(a), to(b), dxfattribs=on)
        lines = list(words)
        if self.paragraph and lines:
            look = {"insert": to((40, 300)), "char_height": 6, **on}
            space.add_mtext("\\P".join(lines), dxfattribs=look)
        for k, text in enumerate(() if self.paragraph else lines):
            space.add_text(text, height=6, dxfattribs=on).set_placement(to((40, 300 - 12 * k)))

    def data(self) -> bytes:
        """The file."""
        out = io.StringIO()
        self.file.write(out)
        return out.getvalue().encode()


class ByHand:
    """Written tag by tag as R12: polylines, the side as 120 chords.

    Without a header, or with one that names the unit ($INSUNITS).
    """

    def __init__(self, units: int | None = None) -> None:
        self.units = units
        self.blocks: list[list[str]] = []
        self.body: list[str] = []

    @staticmethod
    def tags(*pairs: tuple[int, object]) -> str:
        """Tags in order."""
        return "".join(f"{code}\n{value}\n" for code, value in pairs)

    def block(self, name: str, at: P = (0.0, 0.0)) -> list[str]:
        """Begin a block used once at a place; return where to draw."""
        head = self.tags((0, "BLOCK"), (8, "0"), (2, name), (70, 0), (10, 0), (20, 0))
        into: list[str] = [head]
        self.blocks.append(into)
        self.body.append(self.tags((0, "INSERT"), (8, "0"), (2, name), (10, at[0]), (20, at[1])))
        return into

    def draw(self, one: Drawn, words: Iterable[str], at: P, layer: str = "0", space=None) -> None:
        """Draw a piece with its lower left corner at a place."""
        into = self.body if space is None else space
        (top, foot), (_, hem), (waist, _) = one.lines
        ring = [top, foot, *(one.on_side(k / 120) for k in range(121))]
        assert ring[2] == hem
        assert ring[-1] == waist
        into.append(self.tags((0, "POLYLINE"), (8, layer), (66, 1), (70, 1)))
        into += (
            self.tags((0, "VERTEX"), (8, layer), (10, x + at[0]), (20, y + at[1])) for x, y in ring
        )
        into.append(self.tags((0, "SEQEND")))
        for a, b in one.ticks:
            ends = ((10, a[0] + at[0]), (20, a[1] + at[1]), (11, b[0] + at[0]), (21, b[1] + at[1]))
            into.append(self.tags((0, "LINE"), (8, layer), *ends))
        for k, text in enumerate(words):
            place = ((10, 40 + at[0]), (20, 300 - 12 * k + at[1]), (40, 6), (1, text))
            into.append(self.tags((0, "TEXT"), (8, layer), *place))

    def data(self) -> bytes:
        """The file."""
        head = self.tags((0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"), (1, "AC1009"))
        unit = self.tags((9, "$INSUNITS"), (70, self.units), (0, "ENDSEC"))
        parts = [head + unit] if self.units is not None else []
        parts.append(self.tags((0, "SECTION"), (2, "BLOCKS")))
        for block in self.blocks:
            parts += [*block, self.tags((0, "ENDBLK"))]
        parts += [self.tags((0, "ENDSEC"), (0, "SECTION"), (2, "ENTITIES")), *self.body]
        return "".join([*parts, self.tags((0, "ENDSEC"), (0, "EOF"))]).encode("ascii")


def panels(first: int = 1, *, like: bool = True, grow: float = 1.0) -> ByLibrary:
    """Three blocks called panel 1, 2, 3: alike as sizes are, or as wide as the next is long."""
    to = ByLibrary()
    for n in range(3):
        into = to.block(f"panel {first + n}", (700.0 * n, 0.0))
        wide = 300 * (1 + 0.05 * n * grow if like else 1 + n)
        into.add_lwpolyline([(0, 0), (wide, 0), (wide, 400), (0, 400)], close=True)
    return to
