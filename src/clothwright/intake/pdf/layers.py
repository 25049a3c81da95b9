"""Names of optional-content groups, and which of them are off (ISO 32000-2, 8.11)."""

from __future__ import annotations

from typing import Any, NamedTuple

import pikepdf

DEEPEST = 8


class Layer(NamedTuple):
    """A layer's name, and whether the file shows it when it is opened."""

    name: str
    shown: bool


NO_LAYER = Layer("", True)


class Layers:
    """Looks up what an /OC entry names. Groups without a name have the name "layer"."""

    def __init__(self, root: Any) -> None:
        self._off: set[tuple[int, int]] = set()
        config = _get(_get(root, "/OCProperties"), "/D")
        if _name(_get(config, "/BaseState")) == "/OFF":
            on = {_key(g) for g in _items(_get(config, "/ON"))}
            groups = _items(_get(_get(root, "/OCProperties"), "/OCGs"))
            self._off = {_key(g) for g in groups} - on
        self._off |= {_key(g) for g in _items(_get(config, "/OFF"))}

    def of(self, entry: Any, deep: int = 0) -> Layer:
        """Return the layer of a group, or of a membership dictionary (its first group's name)."""
        if not isinstance(entry, pikepdf.Dictionary) or deep > DEEPEST:
            return NO_LAYER
        if _is_member(entry):
            return self._member(entry, deep)
        words = _get(entry, "/Name")
        shown = _key(entry) not in self._off
        return Layer(str(words).strip()[:200] or "layer" if words is not None else "layer", shown)

    def _member(self, entry: Any, deep: int) -> Layer:
        groups = _get(entry, "/OCGs")
        each = [groups] if isinstance(groups, pikepdf.Dictionary) else _items(groups)
        found = [self.of(g, deep + 1) for g in each[:50] if not _is_member(g)]
        if not found:
            return NO_LAYER
        shown = [layer.shown for layer in found]
        policy = _name(_get(entry, "/P")) or "/AnyOn"
        state = {
            "/AllOn": all(shown),
            "/AnyOff": not all(shown),
            "/AllOff": not any(shown),
        }.get(policy, any(shown))
        return Layer(found[0].name, state)


def _is_member(entry: Any) -> bool:
    """Tell a membership from a group: a membership may hold groups only (table 97)."""
    return _name(_get(entry, "/Type")) == "/OCMD"


def _get(holder: Any, key: str) -> Any:
    return holder.get(key) if isinstance(holder, pikepdf.Dictionary | pikepdf.Stream) else None


def _items(array: Any) -> list[Any]:
    return list(array) if isinstance(array, pikepdf.Array) else []


def _name(value: Any) -> str:
    return str(value) if isinstance(value, pikepdf.Name) else ""


def _key(group: Any) -> tuple[int, int]:
    return (
        group.objgen if isinstance(group, pikepdf.Object) and group.is_indirect else (0, id(group))
    )
