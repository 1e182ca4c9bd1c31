"""Tasks on every core: worker processes that are fed one task at a time.

A process of its own for each worker, started afresh (spawned), because a process has one GL context and
GL drivers do not survive a fork. A worker that dies takes its one task with it and is replaced.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from multiprocessing import connection
from multiprocessing.process import BaseProcess
from typing import Any, Generic, TypeVar

Task = TypeVar("Task")
Result = TypeVar("Result")

MOST = 8  # each holds a scene and an engine, under a gigabyte: our choice
WORTH_STARTING = 3  # tasks for each worker that is started; starting one takes as long as a few small pictures
_GL_THREADS = "LP_NUM_THREADS"  # of Mesa's software renderer; left alone it takes every core for each worker


@dataclass(frozen=True, kw_only=True)
class Done(Generic[Result]):
    """What became of one task, by its place in the order given: a result, or why there is none, in one line."""

    index: int
    result: Result | None
    failure: str = ""


@dataclass(eq=False)
class _Worker:
    """A running process, our end of its pipe, and the task it has."""

    process: BaseProcess
    pipe: Any
    index: int | None = None


def cores() -> int:
    """Return on how many cores this process may run."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0)) or 1
    return os.cpu_count() or 1


def suited(tasks: int) -> int:
    """Return how many workers suit a number of tasks here, 1 meaning that it is not worth starting any."""
    return max(1, min(cores(), MOST, tasks // WORTH_STARTING))


def run(function: Callable[[Task], Result], tasks: Iterable[Task], workers: int) -> Iterator[Done[Result]]:
    """Yield what became of every task, as each is finished, in no order.

    `function` (a module's own) and tasks must pickle. `tasks` is asked for one more only when a worker is
    free. With one worker the work is done in this process. When the caller stops asking, or is
    interrupted, all workers end at once.
    """
    numbered = enumerate(tasks)
    if workers <= 1:
        for index, task in numbered:
            yield _tried(function, index, task)
        return
    running: list[_Worker] = []
    ahead = next(numbered, None)  # made while the workers work
    try:
        while ahead is not None and len(running) < workers:
            running.append(_started(function, workers))
            _give(running[-1], *ahead)
            ahead = next(numbered, None)
        while running:
            for worker in _ready(running):
                done = _taken(worker)
                if worker.process.exitcode is not None or ahead is None:
                    running.remove(worker)
                    _ended(worker)
                    if ahead is not None:
                        running.append(_started(function, workers))
                if ahead is not None:
                    _give(worker if worker in running else running[-1], *ahead)
                    ahead = next(numbered, None)
                yield done
    finally:
        for worker in running:
            worker.process.terminate()
        for worker in running:
            _ended(worker)


def _tried(function: Callable[[Task], Result], index: int, task: Task) -> Done[Result]:
    """Return what a function makes of a task; whatever goes wrong with it is said in one line."""
    try:
        return Done(index=index, result=function(task))
    except Exception as error:
        said = " ".join(str(error).split())
        return Done(index=index, result=None, failure=said or type(error).__name__)


def _started(function: Callable[[Task], Result], workers: int) -> _Worker:
    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe()
    process = context.Process(target=_serve, args=(theirs, function, workers), daemon=True)
    is_main = threading.current_thread() is threading.main_thread()
    before = signal.signal(signal.SIGINT, signal.SIG_IGN) if is_main else None  # which the new process inherits
    try:
        process.start()
    finally:
        if is_main:
            signal.signal(signal.SIGINT, before)
    theirs.close()
    return _Worker(process=process, pipe=ours)


def _serve(pipe: Any, function: Callable[[Any], Any], workers: int) -> None:
    """Work off tasks until the pipe closes: the life of a worker process."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # whoever started it says when it ends
    os.environ.setdefault(_GL_THREADS, str(max(1, cores() // workers)))
    with suppress(EOFError, OSError):
        while True:
            index, task = pipe.recv()
            pipe.send(_tried(function, index, task))


def _give(worker: _Worker, index: int, task: Any) -> None:
    worker.index = index
    with suppress(OSError):  # it has died already, which is noticed when its answer is waited for
        worker.pipe.send((index, task))


def _ready(running: list[_Worker]) -> list[_Worker]:
    """Wait until workers have answered or died, and return them."""
    ready = connection.wait([worker.pipe for worker in running])
    return [worker for worker in running if worker.pipe in ready]


def _taken(worker: _Worker) -> Done[Any]:
    """Return a worker's answer; of one that has died, how it ended."""
    index = worker.index if worker.index is not None else -1
    try:
        done: Done[Any] = worker.pipe.recv()
        return done
    except (EOFError, OSError):
        worker.process.join()
        code = worker.process.exitcode or 0
        how = signal.Signals(-code).name if code < 0 else f"exit status {code}"
        return Done(index=index, result=None, failure=f"the worker process died ({how})")


def _ended(worker: _Worker) -> None:
    """Wait for a worker to end, and make it if it will not."""
    worker.pipe.close()
    worker.process.join(2.0)
    if worker.process.exitcode is None:
        worker.process.kill()
        worker.process.join()
    worker.process.close()
