"""A process of its own answers, tells what went wrong, and is begun again when it dies."""

from __future__ import annotations

import io
import os
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from mockup.decal.artwork import decode
from mockup.model.errors import InputError
from mockup.model.units import parse_length
from mockup.window.work import worker_process
from mockup.window.work.worker_process import WorkerGoneError, WorkerProcess


@pytest.fixture
def helper() -> Iterator[WorkerProcess]:
    helper = WorkerProcess()
    yield helper
    helper.close()


def test_it_answers_from_another_process(helper: WorkerProcess) -> None:
    assert helper.ask(os.getpid) not in (0, os.getpid())
    assert helper.ask(parse_length, "1 1/2 in", unit="mm") == pytest.approx(38.1)


def test_pictures_come_back_whole(helper: WorkerProcess, examples: Path) -> None:
    data = (examples / "gallery" / "salt_mill" / "art.svg").read_bytes()
    there, here = helper.ask(decode, data, "art.svg"), decode(data, "art.svg")
    assert (there.pixels == here.pixels).all()
    assert (there.name, there.dpi, there.notes) == (here.name, here.dpi, here.notes)
    assert there.pixels.dtype == np.uint8


def test_what_the_user_can_put_right_is_told_as_it_is(helper: WorkerProcess) -> None:
    with pytest.raises(InputError) as there:
        helper.ask(decode, b"<svg", "broken.svg")
    with pytest.raises(InputError) as here:
        decode(b"<svg", "broken.svg")
    assert there.value.faults == here.value.faults
    assert helper.ask(int, "3") == 3


def test_anything_else_that_fails_is_gone_and_the_next_question_is_answered(helper: WorkerProcess) -> None:
    with pytest.raises(WorkerGoneError, match="ZeroDivisionError"):
        helper.ask(divmod, 1, 0)
    with pytest.raises(WorkerGoneError):
        helper.ask(os._exit, 3)
    assert helper.ask(int, "3") == 3


def test_printing_does_not_disturb_the_answers(helper: WorkerProcess) -> None:
    assert helper.ask(print, "hello") is None
    assert helper.ask(int, "3") == 3


def test_closing_ends_what_it_is_at() -> None:
    helper = WorkerProcess()
    got: list[object] = []

    def ask() -> None:
        try:
            helper.ask(time.sleep, 60)
        except WorkerGoneError as gone:
            got.append(gone)

    thread = threading.Thread(target=ask)
    thread.start()
    time.sleep(0.2)
    helper.close()
    thread.join(5)
    assert len(got) == 1
    with pytest.raises(WorkerGoneError):
        helper.ask(int, "3")


def test_where_no_process_can_be_begun_it_is_gone(monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_: object, **__: object) -> None:
        raise OSError("no more processes")

    monkeypatch.setattr(subprocess, "Popen", refused)
    helper = WorkerProcess()
    with pytest.raises(WorkerGoneError, match="no more processes"):
        helper.ask(int, "3")
    helper.close()


def test_it_ends_with_the_program_that_asked() -> None:
    code = (
        "import os; from mockup.window.work.worker_process import WorkerProcess; a = WorkerProcess(); "
        "print(a.ask(os.getpid), flush=True); os._exit(0)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    pid = int(done.stdout)
    until = time.monotonic() + 10
    while time.monotonic() < until and _is_alive(pid):
        time.sleep(0.05)
    assert not _is_alive(pid)


def _is_alive(pid: int) -> bool:
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    stat = Path(f"/proc/{pid}/stat")  # ended, but nobody has asked for its exit status yet
    return not stat.exists() or stat.read_text().rpartition(")")[2].split()[0] != "Z"


def test_a_broken_message_ends_it_quietly() -> None:
    for data in (b"", b"\x00" * 3, (5).to_bytes(8, "big") + b"junk!", (99).to_bytes(8, "big")):
        out = io.BytesIO()
        worker_process.serve(io.BytesIO(data), out)
        assert out.getvalue() == b""
