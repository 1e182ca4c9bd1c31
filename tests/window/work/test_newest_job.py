"""One thread, the newest job."""

from __future__ import annotations

import threading

from mockup.window.work.newest_job import NewestJobThread


def test_a_job_in_hand_learns_that_a_newer_one_waits() -> None:
    begun, seen = threading.Event(), []

    def work(job: int) -> None:
        begun.set()
        seen.append((job, latest.wait(5.0) if job == 1 else False))

    latest: NewestJobThread[int] = NewestJobThread(work, "test")
    latest.request(1)
    assert begun.wait(5)
    latest.request(2)
    assert latest.idle(5)
    assert seen == [(1, True), (2, False)]
    latest.close()


def test_nothing_newer_means_the_whole_wait() -> None:
    seen = []
    latest: NewestJobThread[int] = NewestJobThread(lambda job: seen.append(latest.wait(0.01)), "test")
    latest.request(1)
    assert latest.idle(5)
    assert seen == [False]
    latest.close()


def test_after_closing_nothing_is_done() -> None:
    seen: list[int] = []
    latest: NewestJobThread[int] = NewestJobThread(seen.append, "test")
    latest.close()
    latest.request(1)
    assert not latest.idle(0.05)
    assert seen == []
