"""Tasks on every core: worker processes that are fed one task at a time.

A worker that dies takes its one task with it and is replaced.
"""

from __future__ import annotations

import contextlib
import os
import queue
import threading
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Generic, TypeVar

from mockup.worker import Worker, WorkerGoneError

Task = TypeVar("Task")
Result = TypeVar("Result")
Answer = TypeVar("Answer")

MOST = 8  # each holds a scene and an engine, under a gigabyte: our choice
WORTH_STARTING = 3  # tasks for each worker that is started; starting one takes as long as a few small pictures
_GL_THREADS = "LP_NUM_THREADS"  # of Mesa's software renderer; left alone it takes every core for each worker


@dataclass(frozen=True, kw_only=True)
class Done(Generic[Result]):
    """What became of one task, by its place in the order given: a result, or why there is none, in one line."""

    index: int
    result: Result | None
    failure: str = ""


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
    answers: queue.Queue[tuple[Worker, Done[Result]]] = queue.Queue()
    threads = {_GL_THREADS: str(max(1, cores() // workers))}
    running: list[Worker] = []

    def give(worker: Worker, index: int, task: Task) -> None:
        def wait() -> None:
            try:
                done = worker.ask(_tried, function, index, task)
            except WorkerGoneError as gone:
                done = Done(index=index, result=None, failure=str(gone))
            answers.put((worker, done))

        threading.Thread(target=wait, name=f"task {index}", daemon=True).start()

    ahead = next(numbered, None)  # made while the workers work
    try:
        while ahead is not None and len(running) < workers:
            running.append(Worker(environment=threads))
            give(running[-1], *ahead)
            ahead = next(numbered, None)
        while running:
            worker, done = _next(answers)
            if ahead is not None:
                give(worker, *ahead)
                ahead = next(numbered, None)
            else:
                running.remove(worker)
                worker.close()
            yield done
    finally:
        for worker in running:
            worker.close()


def _next(answers: queue.Queue[Answer]) -> Answer:
    """Return the next answer; Ctrl+C is heard meanwhile on every system."""
    while True:
        with contextlib.suppress(queue.Empty):
            return answers.get(timeout=0.5)


def _tried(function: Callable[[Task], Result], index: int, task: Task) -> Done[Result]:
    """Return what a function makes of a task; whatever goes wrong with it is said in one line."""
    try:
        return Done(index=index, result=function(task))
    except Exception as error:
        said = " ".join(str(error).split())
        return Done(index=index, result=None, failure=said or type(error).__name__)
