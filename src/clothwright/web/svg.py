"""A picture drawn into the page. What a role looks like stands in static/css/lines.css alone."""

from __future__ import annotations

from collections.abc import Callable
from typing import ParamSpec

from markupsafe import Markup

from clothwright.picture.inline import inline_svg, inner_svg

P = ParamSpec("P")


def _as_markup(draw: Callable[P, str]) -> Callable[P, Markup]:
    """Return the same function, whose text the templates put in as it is."""

    def drawn(*args: P.args, **kwargs: P.kwargs) -> Markup:
        return Markup(draw(*args, **kwargs))

    return drawn


inline = _as_markup(inline_svg)
inner = _as_markup(inner_svg)
