"""The free packer (spyrrow) as seen from here: a job handed to a child process, lays taken from it.

What the packer does not know is put in terms it does: a strip with the gap added round it, because
it keeps the gap from the walls too; a hair more height, because it refuses a shape as tall as the
strip; mirror images as shapes of their own; every shape moved to the origin. A child that
panics, is killed or says nothing loses nothing: what it said before stays.
"""

from __future__ import annotations

import contextlib
import json
import math
import os
import queue
import subprocess
import sys
import threading
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import IO

import numpy as np

from clothwright.lay.convex import simplify_outward

HAIR = 0.004
"""mm added to the strip so that a shape as tall as it is taken; half of it is given back."""
LEAN = 120
LEAN_MOST = 0.05
_CHILD = Path(__file__).with_name("child.py")


@dataclass(frozen=True, slots=True, kw_only=True)
class Loose:
    """One shape for the packer: its ring (right side up or mirrored already) and its turns."""

    name: str
    ring: np.ndarray
    turns: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Packed:
    """One lay of the packer: its width, and per name (turn, x, y) for the ring as handed over."""

    width: float
    places: dict[str, tuple[float, float, float]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A strip `height` mm across; seconds are whole, as the packer wants them."""

    height: float
    gap: float
    seconds: int
    seed: int
    workers: int
    items: tuple[Loose, ...]


class Packer:
    """A running child. `latest()` gives the newest lay not yet taken, `close()` ends it."""

    def __init__(self, job: Job) -> None:
        self._job = job
        self._home = {item.name: item.ring.min(axis=0) for item in job.items}
        self._found: queue.Queue[Packed] = queue.Queue()
        self._errors: list[str] = []
        self.ended = False
        self.finished = False
        environment = dict(os.environ, PYTHONPATH=os.pathsep.join(p for p in sys.path if p))
        self._child = subprocess.Popen(
            [sys.executable, "-P", str(_CHILD)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            encoding="utf-8",
            env=environment,
            start_new_session=True,
        )
        self._threads = [
            threading.Thread(target=work, daemon=True)
            for work in (self._feed, self._read, self._listen)
        ]
        for thread in self._threads:
            thread.start()

    @property
    def pid(self) -> int:
        """The child's process id."""
        return self._child.pid

    @property
    def trouble(self) -> str:
        """What the child said on standard error, shortened; empty when all went well."""
        return "".join(self._errors)[:400] if self.ended and not self.finished else ""

    def latest(self, wait: float = 0.0) -> Packed | None:
        """The newest lay since the last call, waiting at most `wait` seconds for one."""
        newest: Packed | None = None
        try:
            newest = self._found.get(timeout=wait) if wait > 0.0 else self._found.get_nowait()
            while True:
                newest = self._found.get_nowait()
        except queue.Empty:
            return newest

    def close(self) -> None:
        """End the child at once; harmless when it has ended."""
        with contextlib.suppress(OSError):
            self._child.kill()
        with contextlib.suppress(subprocess.TimeoutExpired):
            self._child.wait(timeout=2.0)
        for thread in self._threads:
            thread.join(timeout=1.0)
        for pipe in (self._child.stdin, self._child.stdout, self._child.stderr):
            if pipe is not None:
                with contextlib.suppress(OSError):
                    pipe.close()

    def _feed(self) -> None:
        job = self._job
        text = json.dumps(
            {
                "height": job.height + 2.0 * job.gap + HAIR,
                "gap": job.gap,
                "seconds": max(1, job.seconds),
                "seed": job.seed,
                "workers": job.workers,
                "early": False,
                "items": [_plain(item) for item in job.items],
            }
        )
        pipe: IO[str] | None = self._child.stdin
        with contextlib.suppress(OSError, ValueError):
            if pipe is not None:
                pipe.write(text)
                pipe.close()

    def _read(self) -> None:
        pipe = self._child.stdout
        with contextlib.suppress(OSError, ValueError):
            for line in pipe or ():
                with contextlib.suppress(json.JSONDecodeError, KeyError, TypeError):
                    told = json.loads(line)
                    self._found.put(self._unpacked(told))
                    self.finished = self.finished or bool(told.get("final"))
        self.ended = True

    def _listen(self) -> None:
        pipe = self._child.stderr
        with contextlib.suppress(OSError, ValueError):
            for line in pipe or ():
                if len(self._errors) < 8:
                    self._errors.append(line)

    def _unpacked(self, told: dict[str, object]) -> Packed:
        places = {}
        rows: Sequence[tuple[str, float, float, float]] = told["placed"]  # type: ignore[assignment]
        for name, turn, x, y in rows:
            angle = math.radians(turn)
            cos, sin = math.cos(angle), math.sin(angle)
            hx, hy = self._home[name]
            gap = self._job.gap
            places[name] = (
                float(turn),
                float(x - (cos * hx - sin * hy) - gap),
                float(y - (sin * hx + cos * hy) - gap - HAIR / 2.0),
            )
        width: float = told["width"]  # type: ignore[assignment]
        return Packed(width=width, places=places)


def _plain(item: Loose) -> dict[str, object]:
    ring = item.ring - item.ring.min(axis=0)
    if len(ring) > LEAN:
        ring = simplify_outward(ring, corners=LEAN, most=LEAN_MOST, free=0.001)
    return {"id": item.name, "ring": ring.tolist(), "turns": list(item.turns)}
