"""Searches that end after few rounds or with the first lay, use one core, or never ask to go on."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from functools import partial
from multiprocessing.connection import Connection
from typing import Any

from clothwright.rules.weighing.laid import Laid
from clothwright.workroom.planning.tried import ways_to_fit
from clothwright.workroom.searching import process, service
from clothwright.workroom.searching.laying import lay_plan

ROUNDS = 3
LONG_S = 600.0


def search(line: Connection, task: process.Task) -> None:
    """Do a task in a process of its own, as the room does, by one core: each lay is its first.

    The process ends afterwards, and with it what is set here.
    """
    process.ways_to_fit = partial(ways_to_fit, rounds=0)
    seconds = 0.0 if task.kind == "lay" else task.seconds
    process.search(line, replace(task, workers=1, seconds=seconds))


def search_alone(line: Connection, task: process.Task) -> None:
    """Do a task as the room does, by one core: no more processes are started for it."""
    process.search(line, replace(task, workers=1))


def _one_lay_for_ever(*asked: Any, on_laid: Callable[[Laid], None], **_: Any) -> Laid:
    """Tell one lay, then never ask again whether another one is wanted."""
    on_laid(lay_plan(*asked, seconds=0.0))
    time.sleep(10 * LONG_S)
    raise AssertionError("nobody ended it")


def search_deaf(line: Connection, task: process.Task) -> None:
    """Do a task as the room does, with work that never asks whether it is still wanted."""
    process.lay_by_many = _one_lay_for_ever
    process.search(line, task)


@contextmanager
def first_lays() -> Iterator[None]:
    """Let the searches begun meanwhile end so, instead of after the time that was asked for."""
    with _searched_by(search):
        yield


@contextmanager
def one_core() -> Iterator[None]:
    """Let the searches begun meanwhile use one core; they last as long as was asked for."""
    with _searched_by(search_alone):
        yield


@contextmanager
def deaf() -> Iterator[None]:
    """Let the searches begun meanwhile find one lay and then never ask whether to go on."""
    with _searched_by(search_deaf):
        yield


@contextmanager
def _searched_by(do: Callable[[Connection, process.Task], None]) -> Iterator[None]:
    own = service.search
    service.search = do
    try:
        yield
    finally:
        service.search = own
