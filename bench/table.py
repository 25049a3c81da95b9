"""All figures of the bench in one table.

    make bench                                                 all of it, an hour and three quarters
    python bench/table.py --quick                              all of it, about two minutes
    python bench/table.py --only ruled,first --seconds 5       a part

Parts: free (research instances: density, beside the packer alone), ruled (problems of our own: mm
used, beside the comb, the same pieces without rules, and a bound), first (seconds to the first
lay), core (rounds by a second core), chart (throughput of two workers). A mean is followed by the
least and the greatest (least..greatest). docs/bench.md says what each figure means.
"""

from __future__ import annotations

import argparse
import json
import math
import os
import platform
import statistics
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path

import chart as charts
import lay_bench
import lay_problems
import second_core

from clothwright import __version__

HEAD = ("what", "s", "ours", "beside", "ratio", "also", "aim")
PARTS = ("free", "ruled", "first", "core", "chart")
FREE_AIM, CORE_AIM, CHART_AIM, RESIDUAL_AIM, GAIN_AIM = 1.0, second_core.AIM, 1.7, 0.1, 3.0


@dataclass(frozen=True, kw_only=True)
class Row:
    """One line of the table; `values` holds every single figure behind it.

    met: None where there is no aim.
    """

    part: str
    what: str
    seconds: str = ""
    ours: str = ""
    beside: str = ""
    ratio: str = ""
    also: str = ""
    aim: str = ""
    met: bool | None = None
    values: dict[str, object] | None = None

    @property
    def cells(self) -> tuple[str, ...]:
        said = "" if self.met is None else " (yes)" if self.met else " (NO)"
        return (
            f"{self.part}: {self.what}", self.seconds, self.ours, self.beside, self.ratio,
            self.also, self.aim + said,
        )  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Asked:
    """What is to be measured."""

    only: tuple[str, ...]
    seconds: tuple[float, ...]
    ruled_seconds: float
    seeds: int
    free: Path | None
    core_seconds: float
    pairs: int
    chart_rounds: int
    chart_seconds: float
    chart_runs: int
    chart_widths: int
    quick: bool


def spread(values: Sequence[float], digits: int) -> str:
    """Say a mean, and the least and the greatest where there is more than one."""
    mean = f"{statistics.mean(values):.{digits}f}"
    if len(values) == 1:
        return mean
    return f"{mean} ({min(values):.{digits}f}..{max(values):.{digits}f})"


# --- the parts ----------------------------------------------------------------------------------


def free_rows(asked: Asked) -> Iterator[Row]:
    paths = sorted(asked.free.glob("*.json")) if asked.free else []
    if not paths:
        where = f'no instance in "{asked.free}"' if asked.free else "no folder of instances"
        why = f"not measured: {where}; name one with --free FOLDER or LAY_INSTANCES"
        yield Row(part="free", what="research instances", also=why)
        return
    for seconds in asked.seconds:
        ratios, errors = [], []
        for path in paths:
            row = lay_bench.free_row(path, seconds, asked.seeds)
            ratios.append(row.ratio)
            errors.append(math.hypot(relative_error(row.ours), relative_error(row.alone)))
            known = row.published
            yield Row(
                part="free",
                what=row.name,
                seconds=f"{seconds:g}",
                ours=spread(row.ours, 2) + " %",
                beside="packer alone " + spread(row.alone, 2) + " %",
                ratio=f"{row.ratio:.4f}",
                also=f"published mean {known[0]:.2f}, record {known[1]:.2f}" if known else "",
                values=asdict(row),
            )
        mean = statistics.mean(ratios)
        noise = math.hypot(*errors) / len(errors)
        yield Row(
            part="free",
            what=f"mean of {len(paths)}",
            seconds=f"{seconds:g}",
            beside="packer alone",
            ratio=f"{mean:.4f} ± {noise:.4f}",
            also="± is the standard error of the mean over the seeds",
            aim=f">= {FREE_AIM:.2f}, give or take one standard error",
            met=mean + noise >= FREE_AIM,
            values={"ratios": ratios, "noise": noise},
        )


def relative_error(values: Sequence[float]) -> float:
    """Return the standard error of a mean over the seeds, as a share of it; 0 for one seed."""
    if len(values) < 2:
        return 0.0
    return statistics.stdev(values) / math.sqrt(len(values)) / statistics.mean(values)


def ruled_rows(asked: Asked) -> Iterator[Row]:
    gains, seconds = [], asked.ruled_seconds
    for name in lay_problems.RULED:
        row = lay_bench.ruled_row(name, seconds, asked.seeds)
        if row.combed:
            gains.append(row.gain)
        comb = "comb " if row.combed else "comb does not apply; first lay "
        yield Row(
            part="ruled",
            what=name,
            seconds=f"{seconds:g}",
            ours=spread(row.ours, 0) + " mm",
            beside=comb + spread(row.comb, 0) + " mm",
            ratio=f"{row.gain:+.1f} % shorter",
            also=f"without rules {spread(row.free, 0)} mm (the print costs {row.price:+.0f} %), "
            f"bound {row.bound:.0f} mm, first lay {max(row.firsts):.2f} s, "
            f"worst residual {row.residual:.3f} mm",
            aim=f"no longer; residual <= {RESIDUAL_AIM}",
            met=(not row.combed or row.gain > -0.005) and row.residual <= RESIDUAL_AIM,
            values=asdict(row),
        )
    mean = statistics.mean(gains)
    yield Row(
        part="ruled",
        what=f"mean of {len(gains)} the comb applies to",
        seconds=f"{seconds:g}",
        beside="comb",
        ratio=f"{mean:+.1f} % shorter",
        aim=f">= {GAIN_AIM:.0f} %",
        met=mean >= GAIN_AIM,
        values={"gains": gains},
    )


def first_rows(asked: Asked) -> Iterator[Row]:
    pieces, times = lay_bench.first_seconds(max(3, asked.seeds))
    yield Row(
        part="first",
        what=f"first lay of {pieces} pieces",
        ours=spread(times, 2) + " s",
        aim="< 1 s",
        met=max(times) < 1.0,
        values={"times": times},
    )


def core_rows(asked: Asked) -> Iterator[Row]:
    for plan in second_core.plans():
        row = second_core.gain(plan, asked.core_seconds, asked.pairs)
        yield Row(
            part="core",
            what=plan,
            seconds=f"{asked.core_seconds:g}",
            ours=f"two {spread(row.together, 0)} rounds",
            beside=f"one {spread(row.alone, 0)} rounds",
            ratio=f"{row.ratio:.2f}",
            also=f"used {spread(row.used_together, 0)} mm, "
            f"better of two alone {spread(row.used_alone, 0)} mm",
            aim=f">= {CORE_AIM}",
            met=row.ratio >= CORE_AIM,
            values=asdict(row),
        )


def chart_rows(asked: Asked) -> Iterator[Row]:
    for speed in charts.speeds(
        rounds=asked.chart_rounds,
        seconds=asked.chart_seconds,
        runs=asked.chart_runs,
        widths=asked.chart_widths,
    ):
        if speed.why:
            yield Row(part="chart", what=speed.what, also=f"not measured: {speed.why}")
            continue
        bare = speed.what.startswith("the machine")
        yield Row(
            part="chart",
            what=speed.what,
            ours=f"two workers {spread(speed.two, 1)} s",
            beside=f"one {spread(speed.one, 1)} s",
            ratio=f"{speed.ratio:.2f}",
            also="what two processes can gain here" if bare else "",
            aim="" if bare else f">= {CHART_AIM}",
            met=None if bare else speed.ratio >= CHART_AIM,
            values=asdict(speed),
        )


ROWS: dict[str, Callable[[Asked], Iterator[Row]]] = dict(
    zip(PARTS, (free_rows, ruled_rows, first_rows, core_rows, chart_rows), strict=True)
)


# --- the table ----------------------------------------------------------------------------------


def as_text(rows: Sequence[Row]) -> str:
    lines = [HEAD, *(row.cells for row in rows)]
    wide = [max(len(line[k]) for line in lines) for k in range(len(HEAD))]
    said = ("  ".join(cell.ljust(w) for cell, w in zip(line, wide, strict=True)) for line in lines)
    return "\n".join(line.rstrip() for line in said)


def as_markdown(rows: Sequence[Row], about: str) -> str:
    lines = [HEAD, tuple("---" for _ in HEAD), *(row.cells for row in rows)]
    table = "\n".join("| " + " | ".join(line) + " |" for line in lines)
    return f"# Bench\n\n{about}\n\n{table}\n"


def as_json(rows: Sequence[Row], about: str) -> str:
    return json.dumps({"about": about, "rows": [asdict(r) for r in rows]}, indent=1) + "\n"


def write(file: Path, rows: Sequence[Row], about: str) -> None:
    """Write what there is so far, so that a bench cut short leaves its rows."""
    made = as_json(rows, about) if file.suffix == ".json" else as_markdown(rows, about)
    file.write_text(made, encoding="utf-8")


def measure(asked: Asked, tell: Callable[[list[Row]], None]) -> list[Row]:
    """Measure part by part; a part that breaks leaves a row that says so."""
    rows: list[Row] = []
    for part in asked.only:
        try:
            for row in ROWS[part](asked):
                rows.append(row)
                tell(rows)
        except KeyboardInterrupt:
            rows.append(Row(part=part, what="stopped", also="the rest was not measured"))
            break
        except (Exception, SystemExit) as error:  # noqa: BLE001 (the other parts go on)
            why = f"{type(error).__name__}: {error}"
            rows.append(Row(part=part, what="broken off", also=why, aim="whole", met=False))
            tell(rows)
    return rows


def asked_for(arguments: Sequence[str]) -> tuple[Asked, list[Path]]:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    here = os.environ.get("LAY_INSTANCES")
    parser.add_argument("--only", default=",".join(PARTS), help="parts, with commas (all)")
    parser.add_argument("--seeds", type=int, default=3, help="seeds for each figure (3)")
    parser.add_argument("--seconds", help="of each free lay, with commas (5,20,60)")
    parser.add_argument("--ruled-seconds", type=float, help="of each ruled lay (20)")
    parser.add_argument("--core-seconds", type=float, help="of each search (15)")
    parser.add_argument("--free", type=Path, default=here, help="folder of instances as JSON")
    parser.add_argument("--out", type=Path, action="append", default=[],
                        help="also write to FILE.md or FILE.json; may be repeated")  # fmt: skip
    parser.add_argument("--quick", action="store_true", help="short runs, one seed: two minutes")
    said = parser.parse_args(arguments)
    only = tuple(said.only.split(","))
    if unknown := [p for p in only if p not in PARTS]:
        parser.error(f"no such part: {', '.join(unknown)}; there are {', '.join(PARTS)}")
    if said.seeds < 1:
        parser.error("--seeds: 1 or more")
    quick = said.quick
    text = said.seconds or ("1" if quick else "5,20,60")
    try:
        seconds = tuple(float(s) for s in text.split(","))
    except ValueError:
        parser.error(f"--seconds: {text!r} is no list of seconds, such as 5,20,60")
    ruled = said.ruled_seconds or (1.0 if quick else seconds[len(seconds) // 2])
    asked = Asked(
        only=only,
        seconds=seconds,
        ruled_seconds=ruled,
        seeds=1 if quick else said.seeds,
        free=said.free,
        core_seconds=said.core_seconds or (4.0 if quick else 15.0),
        pairs=1 if quick else 3,
        chart_rounds=2 if quick else charts.ROUNDS,
        chart_seconds=0.0 if quick else charts.SECONDS,
        chart_runs=1 if quick else 2,
        chart_widths=1 if quick else 4,
        quick=quick,
    )
    return asked, said.out


def main() -> None:
    """Measure, print the table, and write it where asked."""
    asked, out = asked_for(sys.argv[1:])
    about = (
        f"clothwright {__version__}, Python {platform.python_version()}, {os.cpu_count()} cores, "
        f"{platform.machine()}; seeds: {asked.seeds}"
    )
    if asked.quick:
        about += "; --quick: that everything runs, no figures to hold against the aims"

    def tell(rows: list[Row]) -> None:
        print(time.strftime("%H:%M:%S"), *filter(None, rows[-1].cells), sep="  ", file=sys.stderr)
        for file in out:
            write(file, rows, about)

    rows = measure(asked, tell)
    print(f"{about}\n\n{as_text(rows)}")
    for file in out:
        write(file, rows, about)
    held = [r.met for r in rows if r.met is not None]
    print(f"\n{sum(held)} of {len(held)} aims met")


if __name__ == "__main__":
    main()
