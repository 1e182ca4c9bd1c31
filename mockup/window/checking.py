"""What the checks find, in a process of its own, so that the window never stutters while they think."""

from __future__ import annotations

import contextlib
import itertools
import os
import pickle
import subprocess
import sys
import threading
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import IO

from mockup.model.errors import MockupError
from mockup.model.finding import Finding
from mockup.window.assets import Shelf
from mockup.window.latest import Latest
from mockup.window.project import Project

NICE = 5  # steps behind the window, which must stay smooth: our choice
_HEAD = 8  # bytes that say how long a message is


@dataclass(frozen=True, kw_only=True)
class Question:
    """A version of an edited layout to be checked; `text` None means as it is on disk."""

    project: Project
    text: str | None = None
    variant: str | None = None
    number: int = 0


@dataclass(frozen=True, kw_only=True)
class Answer:
    """What the checks found of a question, the worst first; `faults` say why they could not run."""

    question: Question
    findings: tuple[Finding, ...] = ()
    faults: tuple[str, ...] = ()


class Checker:
    """Asks a process of its own; each answer goes to `deliver`, which is called on a thread of its own.

    The newest question wins. The process begins with the first question and ends with `close`, or when
    the program does. If it dies it is begun again with the next question.
    """

    def __init__(self, deliver: Callable[[Answer], None]) -> None:
        self._deliver = deliver
        self._numbers = itertools.count(1)
        self._process: subprocess.Popen[bytes] | None = None
        self._lock = threading.Lock()
        self._is_closed = False
        self._latest: Latest[Question] = Latest(self._work, "checks")

    def request(self, question: Question) -> int:
        """Ask for a version to be checked in place of any that is not begun; return the question's number."""
        number = next(self._numbers)
        self._latest.request(replace(question, number=number))
        return number

    def idle(self, timeout: float) -> bool:
        """Wait until nothing is left to check; False where that takes longer than `timeout` seconds."""
        return self._latest.idle(timeout)

    def close(self) -> None:
        """End the process and the thread, whatever they are at."""
        with self._lock:
            self._is_closed = True
            self._end()
        self._latest.close()

    def _work(self, question: Question) -> None:
        try:
            process = self._running()
            if process is None:
                return
            assert process.stdin is not None
            assert process.stdout is not None
            _send(process.stdin, question)
            answer = _received(process.stdout)
        except Exception:  # it died, or was ended
            answer = None
        if not isinstance(answer, Answer):
            with self._lock:
                self._end()
                if self._is_closed:
                    return
            answer = Answer(
                question=question, faults=("the checks could not run; they start again with the next change",)
            )
        self._deliver(answer)

    def _running(self) -> subprocess.Popen[bytes] | None:
        with self._lock:
            if self._is_closed:
                return None
            if self._process is not None and self._process.poll() is not None:
                self._end()
            if self._process is None:
                self._process = subprocess.Popen(
                    [sys.executable, "-m", "mockup.window.checking"],
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
        process.kill()
        process.wait()
        for pipe in (process.stdin, process.stdout):
            if pipe is not None:
                with contextlib.suppress(OSError):
                    pipe.close()


def answer(question: Question, shelf: Shelf) -> Answer:
    """Return what the checks find; never raises."""
    from mockup.checks._run import run

    try:
        text = shelf.text(question.project) if question.text is None else question.text
        design = shelf.design(shelf.layout(text, question.project), question.project, question.variant)
        return Answer(question=question, findings=run(design))
    except MockupError as error:
        return Answer(question=question, faults=tuple(str(error).splitlines()))
    except Exception as error:
        return Answer(question=question, faults=(f"the checks failed ({type(error).__name__}); please report it",))


def serve(questions: IO[bytes], answers: IO[bytes]) -> None:
    """Answer questions until there are no more: what the process of its own does."""
    shelf, project = Shelf(), None
    while True:
        try:
            question = _received(questions)
        except Exception:  # whoever asks has gone, or speaks another language
            return
        if not isinstance(question, Question):
            return
        if question.project != project:
            shelf, project = Shelf(), question.project
        _send(answers, answer(question, shelf))


def _send(pipe: IO[bytes], message: object) -> None:
    data = pickle.dumps(message)
    pipe.write(len(data).to_bytes(_HEAD, "big") + data)
    pipe.flush()


def _received(pipe: IO[bytes]) -> object:
    head = pipe.read(_HEAD)
    if len(head) < _HEAD:
        raise EOFError
    return pickle.loads(pipe.read(int.from_bytes(head, "big")))


if __name__ == "__main__":
    from mockup.window import checking

    if hasattr(os, "nice"):
        os.nice(NICE)
    checking.serve(sys.stdin.buffer, sys.stdout.buffer)
