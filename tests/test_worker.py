"""A process of its own answers, tells what went wrong, and is begun again when it dies."""

from __future__ import annotations

import io
import os
import pickle
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from mockup.decal.pictures.artwork import decode
from mockup.model.errors import InputError
from mockup.model.units import parse_length
from mockup.worker import Worker, WorkerGoneError, received, serve


@pytest.fixture
def helper() -> Iterator[Worker]:
    helper = Worker()
    yield helper
    helper.close()


def test_it_answers_from_another_process(helper: Worker) -> None:
    assert helper.ask(os.getpid) not in (0, os.getpid())
    assert helper.ask(parse_length, "1 1/2 in", unit="mm") == pytest.approx(38.1)


def test_pictures_come_back_whole(helper: Worker, examples: Path) -> None:
    data = (examples / "gallery" / "salt_mill" / "art.svg").read_bytes()
    there, here = helper.ask(decode, data, "art.svg"), decode(data, "art.svg")
    assert (there.pixels == here.pixels).all()
    assert (there.name, there.dpi, there.notes) == (here.name, here.dpi, here.notes)
    assert there.pixels.dtype == np.uint8


def test_what_the_user_can_put_right_is_told_as_it_is(helper: Worker) -> None:
    with pytest.raises(InputError) as there:
        helper.ask(decode, b"<svg", "broken.svg")
    with pytest.raises(InputError) as here:
        decode(b"<svg", "broken.svg")
    assert there.value.faults == here.value.faults
    assert helper.ask(int, "3") == 3


def test_anything_else_that_fails_is_gone_and_the_next_question_is_answered(helper: Worker) -> None:
    with pytest.raises(WorkerGoneError, match="ZeroDivisionError") as failed:
        helper.ask(divmod, 1, 0)
    assert failed.value.reason == "failed"
    assert "Traceback" in failed.value.details
    with pytest.raises(WorkerGoneError, match="exit status 3") as died:
        helper.ask(os._exit, 3)
    assert died.value.reason == "died"
    assert helper.ask(int, "3") == 3


def test_printing_does_not_disturb_the_answers(helper: Worker) -> None:
    assert helper.ask(print, "hello") is None
    assert helper.ask(int, "3") == 3


def test_closing_ends_what_it_is_at() -> None:
    helper = Worker()
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
    helper = Worker()
    with pytest.raises(WorkerGoneError, match="no more processes"):
        helper.ask(int, "3")
    helper.close()


def test_it_ends_with_the_program_that_asked() -> None:
    code = "import os; from mockup.worker import Worker; a = Worker(); print(a.ask(os.getpid), flush=True); os._exit(0)"
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


def test_a_broken_message_is_the_end() -> None:
    for data in (b"", b"\x00" * 3, _framed(b"junk!"), _framed(b"") + b"x", (99).to_bytes(8, "big")):
        with pytest.raises((EOFError, pickle.UnpicklingError)):
            received(io.BytesIO(data))
    out = io.BytesIO()
    serve([], out)
    assert out.getvalue() == b""


def _framed(data: bytes) -> bytes:
    return (1).to_bytes(8, "big") + len(data).to_bytes(8, "big") + data


def test_what_takes_too_long_is_ended_and_the_next_question_answered(helper: Worker) -> None:
    assert helper.ask_within(30.0, int, "3") == 3
    before = time.monotonic()
    with pytest.raises(WorkerGoneError) as late:
        helper.ask_within(0.3, time.sleep, 60)
    assert late.value.reason == "late"
    with pytest.raises(WorkerGoneError) as busy:
        helper.ask_within(0.3, sum, range(10**11))
    assert busy.value.reason == "late"
    assert time.monotonic() - before < 30.0
    assert helper.ask(int, "3") == 3


def test_stopping_is_told_as_such_and_the_next_question_answered(helper: Worker) -> None:
    helper.ask(int, "3")
    threading.Timer(0.3, helper.stop).start()
    with pytest.raises(WorkerGoneError) as stopped:
        helper.ask(time.sleep, 60)
    assert stopped.value.reason == "closed"
    assert helper.ask(int, "3") == 3


def test_questions_from_several_threads_each_get_their_own_answer(helper: Worker) -> None:
    got: dict[int, int] = {}

    def ask(number: int) -> None:
        got[number] = helper.ask(pow, number, 2)

    threads = [threading.Thread(target=ask, args=(number,)) for number in range(12)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(30)
    assert got == {number: number**2 for number in range(12)}


@pytest.mark.skipif(sys.platform != "linux", reason="only there is the address space bounded")
def test_memory_is_bounded() -> None:
    bounded = Worker(memory_bytes=2**30)
    with pytest.raises(WorkerGoneError, match="MemoryError"):
        bounded.ask(bytes, 2**31)
    assert len(bounded.ask(bytes, 2**20)) == 2**20
    bounded.close()


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no forks there")
def test_a_fork_of_the_program_gets_a_process_of_its_own(helper: Worker) -> None:
    """In a program of its own: a fork of this one, with its threads, would be none of our business."""
    code = (
        "import os; from mockup.worker import Worker; a = Worker(); first = a.ask(os.getpid); child = os.fork();\n"
        "second = a.ask(os.getpid); print(first == second, flush=True); a.close();\n"
        "if child: os.waitpid(child, 0); b = Worker(); print(b.ask(int, '3'))"
    ).replace("a.close();\n", "a.close()\n")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60)
    assert sorted(done.stdout.split()) == ["3", "False", "True"]


def test_a_script_without_a_guard_works_and_one_from_standard_input(tmp_path: Path) -> None:
    """A started process must not run the script again, as the library's own way of starting one would."""
    script = tmp_path / "script.py"
    script.write_text("from mockup.worker import Worker\nprint('once')\nprint(Worker().ask(int, '3'))\n")
    for start in ([str(script)], ["-"]):
        done = subprocess.run(
            [sys.executable, *start], input=script.read_text(), capture_output=True, text=True, check=True, timeout=60
        )
        assert done.stdout.split() == ["once", "3"], start


@pytest.mark.skipif(not hasattr(os, "kill") or sys.platform == "win32", reason="no signals there")
@pytest.mark.parametrize("busy", ["time.sleep", "sum"])
def test_it_ends_with_the_program_that_asked_also_while_it_works(busy: str, tmp_path: Path) -> None:
    """`sum` of a range holds the interpreter all the time; the program is killed, so that it can say nothing."""
    mark = tmp_path / "pid"
    work = {"time.sleep": "time.sleep, 60", "sum": "sum, range(10**11)"}[busy]
    code = (
        f"import os, pathlib, sys, time; from mockup.worker import Worker; a = Worker()\n"
        f"pathlib.Path({str(mark)!r}).write_text(str(a.ask(os.getpid))); print('ready', flush=True)\n"
        f"a.ask_within(1.0, {work})\n"
    )
    program = subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, text=True)
    assert program.stdout is not None
    program.stdout.readline()
    time.sleep(0.3)
    program.kill()
    program.wait()
    program.stdout.close()
    until = time.monotonic() + 20
    while time.monotonic() < until and _is_alive(int(mark.read_text())):
        time.sleep(0.05)
    assert not _is_alive(int(mark.read_text()))
