"""python by_python.py PROGRAM PAGES.json OUT.pdf: pages as four libraries for Python write them.

PROGRAM: matplotlib, pymupdf, typst or pydyf, each from PyPI by its own name.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

Page = dict[str, Any]


def by_matplotlib(pages: list[Page], out: str) -> None:
    import matplotlib as mpl

    mpl.use("pdf")
    from matplotlib import pyplot as plt
    from matplotlib.backends.backend_pdf import PdfPages
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path as Curve

    with PdfPages(out) as file:
        for page in pages:
            figure = plt.figure(figsize=(page["wide"] / 72, page["tall"] / 72))
            axes = figure.add_axes((0, 0, 1, 1))
            axes.set(xlim=(0, page["wide"]), ylim=(0, page["tall"]))
            axes.axis("off")
            for line in page["lines"]:
                points, codes = [line["start"]], [Curve.MOVETO]
                for s in line["steps"]:
                    points += [s[k : k + 2] for k in range(0, len(s), 2)]
                    codes += [Curve.LINETO] if len(s) == 2 else [Curve.CURVE4] * 3
                if line["closed"]:
                    points.append(line["start"])
                    codes.append(Curve.CLOSEPOLY)
                style = (0, line["dash"]) if line["dash"] else "solid"
                axes.add_patch(
                    PathPatch(
                        Curve(points, codes), fill=False, lw=line["width"], ls=style, ec=line["rgb"]
                    )
                )
            for w in page["words"]:
                axes.text(w["x"], w["y"], w["words"], fontsize=w["size"])
            file.savefig(figure)
            plt.close(figure)


def by_pymupdf(pages: list[Page], out: str) -> None:
    import pymupdf

    file = pymupdf.open()
    for page in pages:
        here = file.new_page(width=page["wide"], height=page["tall"])

        def at(x: float, y: float, tall: float = page["tall"]) -> Any:
            return pymupdf.Point(x, tall - y)

        for line in page["lines"]:
            shape = here.new_shape()
            last = at(*line["start"])
            for s in line["steps"]:
                points = [at(*s[k : k + 2]) for k in range(0, len(s), 2)]
                if len(points) == 1:
                    shape.draw_line(last, points[0])
                else:
                    shape.draw_bezier(last, *points)
                last = points[-1]
            dashes = f"[{' '.join(map(str, line['dash']))}] 0" if line["dash"] else None
            shape.finish(
                width=line["width"], color=line["rgb"], dashes=dashes, closePath=line["closed"]
            )
            shape.commit()
        for w in page["words"]:
            here.insert_text(at(w["x"], w["y"]), w["words"], fontsize=w["size"])
    file.save(out)


def by_typst(pages: list[Page], out: str) -> None:
    import typst

    text = "".join(_typst_page(p) for p in pages)
    source = Path(out).with_suffix(".typ")
    source.write_text(text, encoding="utf-8")
    typst.compile(str(source), output=out)


def _typst_page(page: Page) -> str:
    def at(x: float, y: float) -> str:
        return f"({x}pt, {page['tall'] - y}pt)"

    body = []
    for line in page["lines"]:
        steps = [f"curve.move({at(*line['start'])})"]
        for s in line["steps"]:
            points = ", ".join(at(*s[k : k + 2]) for k in range(0, len(s), 2))
            steps.append(f"curve.{'line' if len(s) == 2 else 'cubic'}({points})")
        if line["closed"]:
            steps.append('curve.close(mode: "straight")')
        rgb = ", ".join(str(round(255 * c)) for c in line["rgb"])
        dash = f"({', '.join(f'{d}pt' for d in line['dash'])})" if line["dash"] else "none"
        body.append(
            f"#place(top + left, curve(stroke: (paint: rgb({rgb}), thickness: {line['width']}pt, "
            f"dash: {dash}), {', '.join(steps)}))"
        )
    body.extend(
        f"#place(top + left, dx: {w['x']}pt, dy: {page['tall'] - w['y'] - 0.7 * w['size']}pt, "
        f"text(size: {w['size']}pt)[{w['words']}])"
        for w in page["words"]
    )
    return f"#page(width: {page['wide']}pt, height: {page['tall']}pt, margin: 0pt)[\n" + (
        "\n".join(body) + "\n]\n"
    )


def by_pydyf(pages: list[Page], out: str) -> None:
    import pydyf

    file = pydyf.PDF()
    font = pydyf.Dictionary(
        {"Type": "/Font", "Subtype": "/Type1", "Name": "/F1", "BaseFont": "/Helvetica"}
    )
    file.add_object(font)
    for page in pages:
        draw = pydyf.Stream(compress=True)
        for line in page["lines"]:
            draw.push_state()
            draw.set_line_width(line["width"])
            draw.set_color_rgb(*line["rgb"], stroke=True)
            draw.set_dash(line["dash"], 0)
            draw.move_to(*line["start"])
            for s in line["steps"]:
                (draw.line_to if len(s) == 2 else draw.curve_to)(*s)
            (draw.stroke_and_close if line["closed"] else draw.stroke)()
            draw.pop_state()
        for w in page["words"]:
            draw.begin_text()
            draw.set_font_size("F1", w["size"])
            draw.set_text_matrix(1, 0, 0, 1, w["x"], w["y"])
            draw.show_text_string(w["words"])
            draw.end_text()
        file.add_object(draw)
        file.add_page(
            pydyf.Dictionary(
                {
                    "Type": "/Page",
                    "Parent": file.pages.reference,
                    "MediaBox": pydyf.Array([0, 0, page["wide"], page["tall"]]),
                    "Contents": draw.reference,
                    "Resources": pydyf.Dictionary(
                        {"Font": pydyf.Dictionary({"F1": font.reference})}
                    ),
                }
            )
        )
    with Path(out).open("wb") as target:
        file.write(target)


PROGRAMS = {
    "matplotlib": by_matplotlib,
    "pymupdf": by_pymupdf,
    "typst": by_typst,
    "pydyf": by_pydyf,
}

if __name__ == "__main__":
    program, source, target_name = sys.argv[1:]
    PROGRAMS[program](json.loads(Path(source).read_text(encoding="utf-8")), target_name)
