"""A process of its own that answers questions: what may crash, hang or hold the interpreter too long is done there.

It is started afresh, by the interpreter's own path and not by a fork: GL drivers do not survive a fork, and other
systems have none. It may die without harm to whoever asked: that is told, and the next question begins another one.
It ends with the program that asked, whatever it is at.
"""

from __future__ import annotations

import contextlib
import os
import pickle
import queue
import signal
import subprocess
import sys
import threading
import traceback
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any, Literal, ParamSpec, TypeVar, cast

from mockup.model.errors import DEBUG, MockupError

Given = ParamSpec("Given")
Made = TypeVar("Made")
Told = Callable[[int, int, str], None]
Reason = Literal["absent", "closed", "died", "failed", "late"]

NICE = 5  # steps behind the window, which must stay smooth: our choice
_LAST_S = 1.0  # what a process may take to clear up before it is killed: our choice
_PATIENCE = 6.0  # times so long by the clock, where processor time is what counts: a busy machine; our choice
_GRACE_S = 2.0  # by which whoever asks goes before the system: our choice
_PIPE_BYTES = 2**20  # the most that Linux gives a user without asking, from memory
_HEAD = 8  # bytes that say how long a message is
_LINEAR_ALGEBRA_THREADS = "OPENBLAS_NUM_THREADS"  # each would take memory that a bounded process has not


class WorkerGoneError(Exception):
    """A question has no answer. `reason` says why.

    "absent": no process can be begun here. "closed": it was ended by us. "died": it crashed, by `signal` (such
    as "SIGSEGV", "" where it was none). "failed": the function raised what is no `MockupError`; `details` is its
    traceback. "late": it took longer than it may.
    """

    def __init__(self, text: str, *, reason: Reason = "died", signal: str = "", details: str = "") -> None:
        super().__init__(text)
        self.reason = reason
        self.signal = signal
        self.details = details


class Worker:
    """A process that calls functions and sends back what they return; it begins when it is first needed.

    One question at a time; whoever asks meanwhile, from another thread, waits. After it has died it is begun
    again with the next question. It ends with `close`, or when the program does. `is_behind` gives way to the
    window. With `told` every function is given a `progress` there, and what it is called with comes back to
    `told`. `memory_bytes` bounds its address space where the system can; `preload` is a module to load at once.
    """

    def __init__(
        self,
        told: Told | None = None,
        *,
        is_behind: bool = False,
        memory_bytes: int = 0,
        preload: str = "",
        environment: Mapping[str, str] | None = None,
    ) -> None:
        self._told = told
        self._start = _Start(nice=NICE if is_behind else 0, memory_bytes=memory_bytes, preload=preload)
        self._environment = dict(environment or {})
        self._asking = threading.Lock()
        self._lock = threading.Lock()
        self._process: subprocess.Popen[bytes] | None = None
        self._owner = os.getpid()
        self._is_closed = self._is_late = False

    def begin(self) -> None:
        """Start the process where it does not run, without waiting for it."""
        with contextlib.suppress(WorkerGoneError):  # whoever asks is told
            self._running()

    def ask(self, function: Callable[Given, Made], *args: Given.args, **options: Given.kwargs) -> Made:
        """Return what a function of a module returns there; it and all it is given must be picklable.

        Raises `MockupError` as it does, and `WorkerGoneError` where the process ended or anything else went wrong.
        """
        return self.ask_within(None, function, *args, **options)

    def ask_within(
        self, seconds: float | None, function: Callable[Given, Made], *args: Given.args, **options: Given.kwargs
    ) -> Made:
        """Do as `ask` does; a process that takes longer than `seconds` is ended.

        Those are seconds of the processor, so that a busy machine refuses nothing; by the clock where the system
        does not count them, and then too where a process sleeps: after six times as many.
        """
        with self._asking:
            is_made, answer = self._answer(seconds, (function, args, options, self._told is not None, seconds))
        if is_made:
            return cast(Made, answer)
        if isinstance(answer, MockupError):
            raise answer
        text, details = cast(tuple[str, str], answer)
        raise WorkerGoneError(text, reason="failed", details=details)

    def stop(self) -> None:
        """End the process, whatever it is at; the next question begins another one."""
        with self._lock:
            self._end()

    def close(self) -> None:
        """End the process, whatever it is at, for good."""
        with self._lock:
            self._is_closed = True
            self._end()

    def _answer(self, seconds: float | None, question: object) -> tuple[bool, object]:
        process = self._running()
        self._is_late = False
        timer = threading.Timer(_by_clock(seconds), self._run_out, (process,)) if seconds is not None else None
        try:
            if timer is not None:
                timer.daemon = True
                timer.start()
            _send(cast(IO[bytes], process.stdin), question)
            while True:
                is_made, answer = cast(tuple[bool | None, Any], received(cast(IO[bytes], process.stdout)))
                if is_made is not None:
                    return is_made, answer
                if self._told is not None:
                    self._told(*answer)
        except Exception as error:  # its pipes broke, or what came through them made no sense
            raise self._gone(process, error) from None
        finally:
            if timer is not None:
                timer.cancel()

    def _run_out(self, process: subprocess.Popen[bytes]) -> None:
        self._is_late = True
        process.kill()

    def _gone(self, process: subprocess.Popen[bytes], error: Exception) -> WorkerGoneError:
        """Return why a process gave no answer, and clear it away."""
        with self._lock:
            is_ended_by_us = process is not self._process
            if not is_ended_by_us:
                with contextlib.suppress(subprocess.TimeoutExpired):
                    process.wait(_LAST_S)  # it is ending, as its pipes say: then its status tells how
                self._end()
        if is_ended_by_us:
            return WorkerGoneError("it was stopped", reason="closed")
        status = process.returncode
        name = _signal_name(-status) if status < 0 else ""
        if self._is_late or name in ("SIGPROF", "SIGALRM"):
            return WorkerGoneError("it took too long", reason="late")
        how = name or (f"exit status {status}" if status else f"{type(error).__name__}: {error}")
        return WorkerGoneError(f"the worker process died ({how})", signal=name)

    def _running(self) -> subprocess.Popen[bytes]:
        with self._lock:
            if self._is_closed:
                raise WorkerGoneError("it is closed", reason="closed")
            if self._owner != os.getpid():  # this program is a fork: the process is the other one's
                self._process, self._owner = None, os.getpid()
            if self._process is not None and self._process.poll() is not None:
                self._end()
            if self._process is None:
                try:
                    self._process = self._start.process(self._environment)
                except (OSError, ValueError) as error:
                    raise WorkerGoneError(f"no process can be begun ({error})", reason="absent") from None
            return self._process

    def _end(self) -> None:
        """End the process; the lock is held."""
        process, self._process = self._process, None
        if process is None or self._owner != os.getpid():
            return
        process.terminate()
        try:
            process.wait(_LAST_S)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()
        for pipe in (process.stdin, process.stdout):
            if pipe is not None:
                with contextlib.suppress(OSError):
                    pipe.close()


@dataclass(frozen=True, kw_only=True)
class _Start:
    """How a process begins: all that it is told before the first question."""

    nice: int
    memory_bytes: int
    preload: str

    def process(self, environment: Mapping[str, str]) -> subprocess.Popen[bytes]:
        """Start it; it finds modules where this process does."""
        from multiprocessing import spawn  # which programs that hold an interpreter tell where one is

        executable = spawn.get_executable()
        if not executable or getattr(sys, "frozen", False):
            raise OSError("there is no Python interpreter to start")
        own = str(Path(__file__).resolve().parent.parent)
        paths = [str(Path.cwd()) if path == "" else path for path in sys.path]
        start = (
            f"import sys; sys.path[:] = {[*paths, own]!r}; from mockup.worker import main; "
            f"main({self.nice}, {self.memory_bytes}, {self.preload!r})"
        )
        bounded = {_LINEAR_ALGEBRA_THREADS: "1"} if self.memory_bytes else {}
        return subprocess.Popen(
            [os.fsdecode(executable), "-c", start],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=None if os.environ.get(DEBUG) else subprocess.DEVNULL,
            env={**bounded, **environment, **os.environ},
            pipesize=_PIPE_BYTES,  # where the system can: fewer turns from one process to the other
            creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),  # Windows would open a console for it
        )


def main(nice: int, memory_bytes: int, preload: str) -> None:
    """Serve on the standard pipes: the life of a process of its own."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # whoever began it says when it ends
    if nice and hasattr(os, "nice"):
        os.nice(nice)
    if memory_bytes:
        _bound(memory_bytes)
    answers, sys.stdout = sys.stdout.buffer, sys.stderr  # what a library prints must not get into the answers
    questions: queue.SimpleQueue[object] = queue.SimpleQueue()
    threading.Thread(target=_listen, args=(sys.stdin.buffer, questions.put), daemon=True).start()
    if preload:
        __import__(preload)
    serve(iter(questions.get, None), answers)


def _bound(memory_bytes: int) -> None:
    """Bound the address space of this process, on systems that have such a thing."""
    with contextlib.suppress(ImportError, OSError, ValueError):
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (memory_bytes, memory_bytes))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def _listen(pipe: IO[bytes], put: Callable[[object], None]) -> None:
    """Take in questions until whoever asks has gone; then end this process, whatever it is at."""
    with contextlib.suppress(Exception):  # it has gone, or speaks another language
        while True:
            put(received(pipe))
    put(None)
    threading.Event().wait(_LAST_S)
    if hasattr(signal, "SIGTERM"):
        os.kill(os.getpid(), signal.SIGTERM)  # which may be caught, to take away what lies about
    threading.Event().wait(_LAST_S)
    os._exit(1)


def serve(questions: Iterable[object], answers: IO[bytes]) -> None:
    """Answer questions until there are no more."""
    for question in questions:
        function, args, options, is_told, seconds = cast(tuple[Any, Any, Any, bool, float | None], question)
        if is_told:
            options["progress"] = lambda *words: _send(answers, (None, words))
        answer: tuple[bool, object]
        _end_after(seconds)
        try:
            answer = True, function(*args, **options)
        except MockupError as error:
            answer = False, error
        except Exception as error:
            answer = False, (f"{type(error).__name__}: {error}", traceback.format_exc())
        _end_after(None)
        _send(answers, answer)


def _by_clock(seconds: float) -> float:
    """Return after how long by the clock whoever asks ends a process that may take `seconds`."""
    return seconds * _PATIENCE if hasattr(signal, "setitimer") else seconds


def _end_after(seconds: float | None) -> None:
    """Let the system end this process after so many seconds of the processor.

    By the clock it does so a little later than whoever asked, who may be gone by then.
    """
    if hasattr(signal, "setitimer") and threading.current_thread() is threading.main_thread():
        signal.setitimer(signal.ITIMER_PROF, seconds or 0.0)
        signal.setitimer(signal.ITIMER_REAL, _by_clock(seconds) + _GRACE_S if seconds is not None else 0.0)


def _send(pipe: IO[bytes], message: object) -> None:
    """Write a message; large arrays go beside it as they are, without a copy."""
    beside: list[pickle.PickleBuffer] = []
    data = pickle.dumps(message, protocol=5, buffer_callback=beside.append)
    blocks: list[bytes | memoryview] = [data, *(each.raw() for each in beside)]
    for size in (len(blocks), *(len(each) for each in blocks)):
        pipe.write(size.to_bytes(_HEAD, "big"))
    for each in blocks:
        pipe.write(each)
    pipe.flush()


def received(pipe: IO[bytes]) -> object:
    """Return the next message of a pipe; raises `EOFError` where it breaks off."""
    count = int.from_bytes(_exactly(pipe, _HEAD), "big")
    sizes = [int.from_bytes(_exactly(pipe, _HEAD), "big") for _ in range(count)]
    data, *beside = [_exactly(pipe, size) for size in sizes]
    return pickle.loads(data, buffers=beside)


def _exactly(pipe: IO[bytes], size: int) -> bytearray:
    """Return so many bytes; raises `EOFError` where there are fewer."""
    data = bytearray(size)
    got = cast(Any, pipe).readinto(data)
    if got < size:
        raise EOFError
    return data


def _signal_name(number: int) -> str:
    try:
        return signal.Signals(number).name
    except ValueError:
        return f"signal {number}"
