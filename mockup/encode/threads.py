"""Work on frames beside the drawing of the next ones: the libraries that encode let go of the interpreter."""

from __future__ import annotations

import os
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import contextmanager
from typing import TypeVar

Item = TypeVar("Item")
Made = TypeVar("Made")

MOST = 16  # each may hold two frames: our choice


def each(work: Callable[[Item], Made], items: Iterable[Item], threads: int = 0) -> Iterator[Made]:
    """Yield what `work` makes of each item, in order; items are asked for here, as far ahead as two for each thread.

    By default there are as many threads as cores. What fails is raised here, and nothing more is begun then.
    """
    waiting: deque[Future[Made]] = deque()
    threads = threads or cores()
    with pool(threads) as opened:
        for item in items:
            waiting.append(opened.submit(work, item))
            while waiting and (waiting[0].done() or len(waiting) >= 2 * threads):
                yield waiting.popleft().result()
        while waiting:
            yield waiting.popleft().result()


@contextmanager
def pool(threads: int) -> Iterator[ThreadPoolExecutor]:
    """Open threads for a block: when it fails or is interrupted, what was not begun is left."""
    opened = ThreadPoolExecutor(threads)
    try:
        yield opened
    finally:
        opened.shutdown(cancel_futures=True)


def cores() -> int:
    """Return how many threads suit this machine."""
    return min(os.cpu_count() or 1, MOST)
