"""Kill -9 at random moments while commands and the server save, tick, keep answers and lays.

What was acknowledged (a command left with 0, the server answered 200) has to be there after each
kill; what was under way may have come to pass or not; nothing else may differ.
"""

from __future__ import annotations

import contextlib
import io
import multiprocessing
import random
import re
import time
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from pathlib import Path

from clothwright.cli.app import run
from clothwright.demo.checked_waistcoat import checked_waistcoat
from clothwright.rules.weighing.laid import Laid, rank
from clothwright.store import create, load, opened, redo, steps, undo
from clothwright.store.beside.kept import Damaged, read_kept
from clothwright.store.beside.places import yardage_file
from clothwright.store.history.steps import MOST_STEPS
from clothwright.store.noticed import noticed
from clothwright.workroom.planning.chart import Cells
from clothwright.workroom.searching.laying import recall

BOOK, PLAN = "waistcoat", "matched"
NOTHING = 1
"""What undo and redo leave with when there is nothing to undo or redo."""
POCKET = checked_waistcoat().bought.piece("pocket")


@dataclass
class Past:
    """A plain list of titles with a finger on the one that counts: what undo and redo go along."""

    titles: tuple[str, ...]
    finger: int

    def after(self, act: str) -> Past:
        """Return the list after "undo", "redo", or a new title; others leave it alone."""
        if act == "undo":
            return Past(self.titles, max(self.finger - 1, 0))
        if act == "redo":
            return Past(self.titles, min(self.finger + 1, len(self.titles) - 1))
        if act in ("lay", "chart"):
            return self
        return Past((*self.titles[: self.finger + 1], act), self.finger + 1)

    def is_still(self, now: Past) -> bool:
        """Tell whether another list is this one, or its end where the oldest were dropped."""
        count = len(now.titles)
        same = self.titles[-count:] == now.titles and count >= min(len(self.titles), MOST_STEPS)
        return same and len(self.titles) - self.finger == count - now.finger


def past_of(folder: Path) -> Past:
    """Return what the record says; the workbook that lies there is the one under its finger."""
    found = steps(folder)
    said = [re.search(r'"(.+)"', s.words) for s in found]
    past = Past(tuple(m[1] if m else "" for m in said), sum(not s.undone for s in found) - 1)
    book = load(folder)
    title = past.titles[past.finger]
    assert title in ("", book.title), f"the record says {title}, the workbook {book.title}"
    assert book.bought.piece("pocket").note in ("", POCKET.note, book.title), "a torn save"
    return past


@dataclass
class Figures:
    """What is counted. not_done: cut off by a kill, refused in words, or done again."""

    times: int = 0
    acknowledged: int = 0
    not_done: int = 0
    lost: list[str] = field(default_factory=list)
    best: Laid | None = None
    cells: frozenset[str] = frozenset()


def new_book(root: Path) -> Path:
    """Make the demo workbook, with a lay of its plan, and return its folder."""
    folder = root / BOOK
    create(folder, checked_waistcoat())
    opened(folder)
    with contextlib.redirect_stdout(io.StringIO()):
        assert run(["lay", str(folder), "--rounds", "2", "--workers", "1", "--quiet"]) == 0
    return folder


def looked_at(folder: Path, was: Past, acts: list[str], flying: str, figures: Figures) -> Past:
    """Check the record and the workbook against what was acknowledged, and that undo works."""
    sure = was
    for act in acts:
        sure = sure.after(act)
    maybe = sure.after(flying) if flying else sure
    opened(folder)
    now = past_of(folder)
    if not (sure.is_still(now) or maybe.is_still(now)):
        figures.lost.append(f"{now.titles[-4:]} at {now.finger}; {sure.titles[-4:]}, {flying}")
    figures.acknowledged += len(acts)
    figures.not_done += bool(flying)
    if noticed(folder):
        figures.lost.append(f"noticed: {noticed(folder)}")
    if now.finger:
        assert undo(folder) is not None
        assert past_of(folder) == now.after("undo")
        assert redo(folder) is not None
    assert past_of(folder) == now
    assert not list(folder.rglob("*.part")), "a draft was left behind"
    return now


# --- commands -------------------------------------------------------------------------------------


def commanding(folder: Path, first: str, seed: int, line: Connection) -> None:
    """Run one command after another for ever, and say when each begins and has left with 0."""
    rng, n = random.Random(seed), 0
    with contextlib.redirect_stdout(io.StringIO()):
        while True:
            n += 1
            act = first if n == 1 and first else rng.choice(["undo", "redo", *["title"] * 5])
            act = f"c{seed}-{n}" if act == "title" else act
            line.send(("begin", act))
            line.send(("end", run(_command(act, str(folder)))))


def _command(act: str, at: str) -> list[str]:
    if act == "lay":
        return ["lay", at, "--rounds", "4", "--workers", "1", "--quiet", "--seed", "3"]
    if act == "chart":
        return ["chart", at, "--seconds", "1", "--workers", "1", "--nap", "with"]
    return [act, at] if act in ("undo", "redo") else ["edit", at, "rename-workbook", f"title={act}"]


def kill_commands(root: Path, count: int, *, seed: int = 1) -> Figures:
    """Kill a process that runs commands, at a random moment of one of them, so many times."""
    figures, folder = Figures(), new_book(root)
    context = multiprocessing.get_context("forkserver")
    rng, past = random.Random(seed), past_of(folder)
    for n in range(count):
        ours, theirs = context.Pipe(duplex=False)
        first = "lay" if n % 12 == 3 else "chart" if n % 24 == 7 else ""
        it = context.Process(target=commanding, args=(folder, first, seed * 1000 + n, theirs))
        it.start()
        theirs.close()
        said = [ours.recv()]
        while sum(word == "end" for word, _ in said) < (0 if first else rng.randrange(4)):
            said.append(ours.recv())
        time.sleep(rng.uniform(0.0, 4.0 if first else 0.15))
        it.kill()
        it.join()
        with contextlib.suppress(EOFError):
            while True:
                said.append(ours.recv())
        begun = [act for word, act in said if word == "begin"]
        ended = [code for word, code in said if word == "end"]
        assert not set(ended) - {0, NOTHING}, f"a command failed: {said}"
        figures.times += 1
        flying = begun[len(ended)] if len(begun) > len(ended) else ""
        past = looked_at(folder, past, begun[: len(ended)], flying, figures)
        beside(folder, figures)
    return figures


def beside(folder: Path, figures: Figures) -> None:
    """Check that kept lay and chart can be used, and that no lay is worse than one before."""
    kept = recall(folder, load(folder), PLAN)
    if kept is None or (figures.best is not None and rank(kept) > rank(figures.best)):
        figures.lost.append("the kept lay is gone, or a worse one is kept")
    else:
        figures.best = kept
    cells = read_kept(yardage_file(folder), Cells)
    if isinstance(cells, Damaged):
        figures.lost.append(f"the chart: {cells.why}")
    elif cells is not None:
        if not figures.cells <= set(cells.cells):
            figures.lost.append("entries of the chart are gone")
        figures.cells = frozenset(cells.cells)
