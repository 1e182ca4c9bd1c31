"""Worker processes: every task answered once, a dead worker costs its own task only, stopping stops them all."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

sys.path.append(str(Path(__file__).parent))  # for worker_jobs, which is no test
from worker_jobs import job

from mockup import workers


@pytest.mark.parametrize("count", [1, 2])
def test_every_task_is_answered_once(count: int) -> None:
    found = {done.index: done for done in workers.run(job, [("square", n) for n in range(7)], count)}
    assert {index: done.result for index, done in found.items()} == {n: n * n for n in range(7)}
    assert not any(done.failure for done in found.values())


def test_work_is_done_in_other_processes_and_shared_out() -> None:
    found = {done.result for done in workers.run(job, [("process", 0.2)] * 6, 2)}
    assert len(found) == 2
    assert os.getpid() not in found


@pytest.mark.parametrize("count", [1, 2])
def test_a_failure_is_one_line_and_the_rest_go_on(count: int) -> None:
    tasks = [("square", 3), ("fail", "no\nroom"), ("square", 4)]
    found = {done.index: done for done in workers.run(job, tasks, count)}
    assert (found[0].result, found[2].result) == (9, 16)
    assert (found[1].result, found[1].failure) == (None, "no room")


@pytest.mark.skipif(sys.platform == "win32", reason="no signals there")
def test_a_worker_that_dies_costs_its_own_task_only() -> None:
    tasks = [("square", 2), ("die", None), ("square", 3), ("die", None), ("square", 4)]
    found = {done.index: done for done in workers.run(job, tasks, 2)}
    assert {index: done.result for index, done in found.items()} == {0: 4, 1: None, 2: 9, 3: None, 4: 16}
    assert found[1].failure == "the worker process died (SIGKILL)"


def test_tasks_are_made_only_as_they_are_needed() -> None:
    made: list[int] = []

    def tasks() -> Iterator[tuple[str, int]]:
        for number in range(50):
            made.append(number)
            yield "square", number

    run = workers.run(job, tasks(), 2)
    next(run)
    assert len(made) <= 5  # two at work, one ahead, and what was given after the first answer
    run.close()


def test_stopping_ends_the_workers_at_once(tmp_path: Path) -> None:
    """The tasks would sleep for 30 s."""
    marks = [tmp_path / name for name in "ab"]
    run = workers.run(job, [("square", 1), ("square", 2), *(("touch", str(mark)) for mark in marks)], 2)
    next(run), next(run)
    limit = time.monotonic() + 20.0
    while not all(mark.exists() and mark.read_text() for mark in marks):
        assert time.monotonic() < limit
        time.sleep(0.05)
    before = time.monotonic()
    run.close()
    assert time.monotonic() - before < 5.0
    for mark in marks:
        with pytest.raises(OSError):
            os.kill(int(mark.read_text()), 0)


def test_few_tasks_start_no_workers(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(workers, "cores", lambda: 4)
    assert [workers.suited(tasks) for tasks in (0, 1, 2, 3, 6, 12, 100)] == [1, 1, 1, 1, 2, 4, 4]
