"""What a change names among the pieces it is done on, read from the fields it declares."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any, get_args

from clothwright.changes.change import Change, Outcome
from clothwright.errors import ClothwrightError
from clothwright.pattern.names import Ref
from clothwright.pattern.pattern import Pattern
from clothwright.units.kinds import Kind, Named, Sized
from clothwright.units.params import declared

LISTS = ("pieces", "edges")
NAMES = get_args(Named)
"""Kinds of fields that name what a change is done on; "level" and "line" say where on a piece."""


Now = Mapping[Ref, tuple[Ref, ...]]
"""What names are called now."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """A change, its parameters, and the pieces it is to be done on."""

    change: Change[Any]
    params: Any
    pattern: Pattern

    def kinds(self) -> Iterator[tuple[str, Kind, Any]]:
        """Yield each field: its name, its kind, its value."""
        for name, it in declared(self.change.params).items():
            yield name, it.kind, getattr(self.params, name)

    def named(self) -> Iterator[tuple[str, Ref]]:
        """Yield what the change names, each with the kind of its field.

        A change of sizes that names no piece means all that come in several.
        """
        for _, kind, value in self.kinds():
            for text in value if isinstance(value, tuple) else (value,):
                ref = self._ref(kind, text)
                if ref is not None:
                    yield kind, ref
            if kind == "pieces" and not value and self.of_sizes and self.pattern.sizes:
                yield from ((kind, Ref("piece", n, "")) for n in self.pattern.sizes.piece_names)

    @property
    def refs(self) -> tuple[Ref, ...]:
        """What the change names, each once."""
        return tuple(dict.fromkeys(ref for _, ref in self.named()))

    @property
    def of_sizes(self) -> bool:
        """Whether it is a change of sizes."""
        return any(kind in get_args(Sized) for _, kind, _ in self.kinds())

    @property
    def own_piece(self) -> str:
        """The piece that a point without one belongs to, "" for none."""
        return next((str(value).strip() for _, kind, value in self.kinds() if kind == "piece"), "")

    @property
    def lines(self) -> tuple[str, ...]:
        """The lines that every piece of the change has to have."""
        return tuple(str(v) for _, kind, v in self.kinds() if kind in ("level", "line") and v)

    def of_each(self, piece: str) -> Iterator[Ref]:
        """Yield the lines and points that a piece of the change has to have."""
        yield from (Ref("line", piece, n) for n in self.lines)
        for _, kind, value in self.kinds():
            if kind == "point of each" and value:
                yield Ref("point", piece, str(value))

    def means_all(self, ref: Ref) -> bool:
        """Tell whether it means every part alike of something it names."""
        kinds = {kind for kind, r in self.named() if r == ref}
        return self.change.divides and kinds <= set(LISTS)

    def renamed(self, now: Now) -> Request:
        """Return it with some names said otherwise."""
        values: dict[str, Any] = {}
        for name, kind, value in self.kinds():
            if isinstance(value, tuple):
                said = (t for text in value for t in self._texts(kind, text, now))
                values[name] = tuple(dict.fromkeys(said))
            elif kind in NAMES:
                values[name] = self._texts(kind, value, now)[0]
        return replace(self, params=replace(self.params, **values))

    def done(self) -> Outcome:
        """Do it. Raises what the change raises."""
        return self.change.apply(self.pattern, self.params)

    def can(self) -> bool:
        """Tell whether it can be done."""
        try:
            self.done()
        except ClothwrightError:
            return False
        return True

    def _ref(self, kind: str, text: object) -> Ref | None:
        """Return what a text of a field names; None where it names nothing."""
        if kind not in NAMES or not isinstance(text, str) or not text.strip():
            return None
        if kind == "seam":
            return Ref(kind, "", text.strip())
        piece, dot, name = (part.strip() for part in text.partition("."))
        if kind in ("piece", "pieces") or (kind == "edges" and not dot):
            return Ref("piece", text.strip(), "")
        if not dot:
            own = self.own_piece
            return Ref(kind, own, piece) if own and kind == "point" else None
        if kind in ("edge", "edges"):
            return Ref("edge", piece, name.removesuffix(" reversed").strip())
        return Ref(kind, piece, name)

    def _texts(self, kind: str, text: Any, now: Now) -> tuple[Any, ...]:
        ref = self._ref(kind, text)
        if ref is None or ref not in now:
            return (text,)
        back = " reversed" if ref.kind == "edge" and text.strip().endswith(" reversed") else ""
        return tuple(r.text + back for r in now[ref])
