"""Work done in a process of its own: whatever would hold the interpreter so long that the window stutters."""

from __future__ import annotations

import contextlib
import os
import pickle
import subprocess
import sys
import threading
from collections.abc import Callable
from typing import IO, Any, ParamSpec, TypeVar, cast

from mockup.model.errors import Fault, InputError, MockupError
from mockup.options import Progress

Given = ParamSpec("Given")
Made = TypeVar("Made")

NICE = 5  # steps behind the window, which must stay smooth: our choice
_LAST_S = 1.0  # what a process may take to clear up before it is killed: our choice
_HEAD = 8  # bytes that say how long a message is


class WorkerGoneError(Exception):
    """The process ended before it answered: it crashed, was closed, or cannot be begun here."""


class WorkerProcess:
    """A process that calls functions and sends back what they return; it begins when it is first needed.

    One question at a time: it is asked from one thread. After it has died it is begun again with the next
    question. It ends with `close`, or when the program does. `is_behind` gives way to the window. With `told`
    every function is given a `progress` there, and what it is called with comes back to `told`.
    """

    def __init__(self, told: Progress | None = None, *, is_behind: bool = False) -> None:
        self._told = told
        self._is_behind = is_behind
        self._lock = threading.Lock()
        self._process: subprocess.Popen[bytes] | None = None
        self._is_closed = False

    def ask(self, function: Callable[Given, Made], *args: Given.args, **options: Given.kwargs) -> Made:
        """Return what a function of a module returns there; it and all it is given must be picklable.

        Raises `MockupError` as it does, and `WorkerGoneError` where the process ended or anything else went wrong.
        """
        try:
            process = self._running()
            _send(cast(IO[bytes], process.stdin), (function, args, options, self._told is not None))
            is_made, answer = cast(tuple[bool | None, Any], _received(cast(IO[bytes], process.stdout)))
            while is_made is None and self._told is not None:
                self._told(*answer)
                is_made, answer = cast(tuple[bool | None, Any], _received(cast(IO[bytes], process.stdout)))
        except Exception as error:  # its pipes broke, or what came through them made no sense
            with self._lock:
                self._end()
            raise WorkerGoneError(str(error)) from None
        if is_made:
            return cast(Made, answer)
        if isinstance(answer, str):
            raise WorkerGoneError(answer)
        if isinstance(answer, MockupError):
            raise answer
        raise InputError(cast(tuple[Fault, ...], answer))

    def close(self) -> None:
        """End the process, whatever it is at."""
        with self._lock:
            self._is_closed = True
            self._end()

    def _running(self) -> subprocess.Popen[bytes]:
        with self._lock:
            if self._is_closed:
                raise WorkerGoneError("it is closed")
            if self._process is not None and self._process.poll() is not None:
                self._end()
            if self._process is None:
                self._process = subprocess.Popen(
                    [sys.executable, "-m", "mockup.window.work.worker_process", str(NICE if self._is_behind else 0)],
                    stdin=subprocess.PIPE,
                    stdout=subprocess.PIPE,
                    stderr=subprocess.DEVNULL,
                )
            return self._process

    def _end(self) -> None:
        """End the process; the lock is held."""
        process, self._process = self._process, None
        if process is None:
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


def serve(questions: IO[bytes], answers: IO[bytes]) -> None:
    """Answer questions until there are no more: what the process of its own does."""
    while True:
        try:
            function, args, options, is_told = cast(tuple[Any, Any, Any, bool], _received(questions))
        except Exception:  # whoever asks has gone, or speaks another language
            return
        if is_told:
            options["progress"] = lambda *words: _send(answers, (None, words))
        answer: tuple[bool, object]
        try:
            answer = True, function(*args, **options)
        except InputError as error:
            answer = False, error.faults
        except MockupError as error:
            answer = False, error
        except Exception as error:
            answer = False, f"{type(error).__name__}: {error}"
        _send(answers, answer)


def _send(pipe: IO[bytes], message: object) -> None:
    data = pickle.dumps(message, protocol=pickle.HIGHEST_PROTOCOL)
    pipe.write(len(data).to_bytes(_HEAD, "big"))
    pipe.write(data)
    pipe.flush()


def _received(pipe: IO[bytes]) -> object:
    head = pipe.read(_HEAD)
    if len(head) < _HEAD:
        raise EOFError
    return pickle.loads(pipe.read(int.from_bytes(head, "big")))


def main() -> None:
    """Serve on the standard pipes."""
    if hasattr(os, "nice"):
        os.nice(int(sys.argv[1]))
    answers, sys.stdout = sys.stdout.buffer, sys.stderr  # what a library prints must not get into the answers
    serve(sys.stdin.buffer, answers)


if __name__ == "__main__":
    main()
