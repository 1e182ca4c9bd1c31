"""Begins worker processes, each in a fork of this process, which has loaded the program: that is most of a start.

A window begins up to five of them, each of which would load the libraries anew: a second of the processor. Whoever
wants one sends its pipes over a socket, is told its process, and later how that ended.
"""

from __future__ import annotations

import contextlib
import json
import os
import select
import selectors
import signal
import socket
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import IO, Any

PLACE = "MOCKUP_TEST_WORKERS"
"""The variable that names the socket."""
ROOMS = (
    *(f"mockup.window.work.{name}" for name in ("arranging", "check_runner", "mender", "page_lookup", "room_search")),
    "mockup.window.work.try_outs",
    "mockup.window.saves.page_preview",
    "mockup.window.saves.save_jobs",
)
"""What the window does in processes of their own."""
PEDAL = "MOCKUP_TEST_PEDAL"
"""The variable that names a layout whose findings and meshes are there before the first fork."""
_MOST_BYTES = 2**17


class WorkerShell:
    """The process that begins others; `path` is its socket."""

    def __init__(self, pedal: Path) -> None:
        self._folder = tempfile.TemporaryDirectory(prefix="workers")
        self.path = str(Path(self._folder.name) / "socket")
        with socket.socket(socket.AF_UNIX, socket.SOCK_SEQPACKET) as gate:  # who comes before it has loaded waits
            gate.bind(self.path)
            gate.listen(64)
            self._process = subprocess.Popen(
                [sys.executable, __file__, str(gate.fileno())],
                stdin=subprocess.PIPE,
                pass_fds=[gate.fileno()],
                env={**os.environ, "PYTHONPATH": str(Path(__file__).parent.parent), PEDAL: str(pedal)},
            )

    def close(self) -> None:
        """End the process."""
        self._process.communicate(timeout=20)
        self._folder.cleanup()


class ForkedWorker:
    """A process that the shell began, asked after as `subprocess.Popen` is."""

    def __init__(self, line: socket.socket, stdin: IO[bytes], stdout: IO[bytes]) -> None:
        self.pid = int(line.recv(64))
        self.stdin, self.stdout = stdin, stdout
        self.returncode: int | None = None
        self._line = line

    def poll(self) -> int | None:
        """Return the status with which it has ended, None where it has not."""
        return self._told(0.0)

    def wait(self, timeout: float | None = None) -> int:
        """Wait for its end, and return its status."""
        status = self._told(timeout)
        if status is None:
            assert timeout is not None
            raise subprocess.TimeoutExpired("worker", timeout)
        return status

    def terminate(self) -> None:
        """Ask it to end."""
        self._send(signal.SIGTERM)

    def kill(self) -> None:
        """End it, whatever it does."""
        self._send(signal.SIGKILL)

    def _send(self, number: int) -> None:
        if self.poll() is None:
            with contextlib.suppress(ProcessLookupError):
                os.kill(self.pid, number)

    def _told(self, seconds: float | None) -> int | None:
        if self.returncode is None and select.select([self._line], [], [], seconds)[0]:
            said = self._line.recv(64)
            self.returncode = int(said) if said else -signal.SIGKILL  # the shell itself has gone
            self._line.close()
        return self.returncode


def lend() -> None:
    """Let workers of this process and of its forks begin in the shell that the environment names."""
    from mockup import worker
    from mockup.model.errors import DEBUG

    path = os.environ[PLACE]

    def process(start: Any, environment: Mapping[str, str]) -> ForkedWorker:
        question, stdin = os.pipe()
        stdout, answer = os.pipe()
        line = socket.socket(socket.AF_UNIX, socket.SOCK_SEQPACKET)
        line.connect(path)
        asked = {"start": [start.nice, start.memory_bytes, start.preload], "cwd": str(Path.cwd())}
        told = json.dumps({**asked, "env": {**environment, **os.environ}}).encode()
        cried = os.dup(2) if os.environ.get(DEBUG) else os.open(os.devnull, os.O_WRONLY)
        socket.send_fds(line, [told], [question, answer, cried])
        for sent in (question, answer, cried):
            os.close(sent)
        return ForkedWorker(line, os.fdopen(stdin, "wb"), os.fdopen(stdout, "rb"))

    worker._Start.process = process  # type: ignore[assignment, method-assign]


def main(number: int) -> None:
    """Serve until the input ends."""
    from shell import load, load_program

    load_program()
    load(*ROOMS, made=_check)
    gate = socket.socket(fileno=number)
    with selectors.DefaultSelector() as waiting:
        waiting.register(gate, selectors.EVENT_READ)
        waiting.register(0, selectors.EVENT_READ)
        while True:
            for key, _ in waiting.select():
                if key.fd == 0:
                    return
                if key.fd == number:
                    pid, line = _begun(gate)
                    waiting.register(os.pidfd_open(pid), selectors.EVENT_READ, (pid, line))
                else:
                    waiting.unregister(key.fd)
                    os.close(key.fd)
                    pid, line = key.data
                    _, raw = os.waitpid(pid, 0)
                    with line, contextlib.suppress(OSError):  # nobody may be left to hear it
                        line.send(str(os.waitstatus_to_exitcode(raw)).encode())


def _check() -> None:
    """Look at the pedal once, for every fork to remember."""
    from mockup import reader
    from mockup.window.work.check_runner import CheckRequest, findings
    from mockup.window.work.project import opened

    findings(CheckRequest(project=opened(Path(os.environ[PEDAL]))))
    reader.stop()


def _begun(gate: socket.socket) -> tuple[int, socket.socket]:
    """Begin the process that the next one at the gate asks for."""
    line, _ = gate.accept()
    told, pipes, _, _ = socket.recv_fds(line, _MOST_BYTES, 3)
    pid = os.fork()
    if pid == 0:
        line.close()
        _become(pipes, told)
    for pipe in pipes:
        os.close(pipe)
    with contextlib.suppress(OSError):  # who asked may have been killed meanwhile
        line.send(str(pid).encode())
    return pid, line


def _become(pipes: list[int], told: bytes) -> None:
    """Be the worker that is asked for, and end with it."""
    import traceback

    try:
        asked = json.loads(told)
        os.chdir(asked["cwd"])
        for number, pipe in enumerate(pipes):
            os.dup2(pipe, number)
            os.close(pipe)
        os.environ.clear()
        os.environ.update(asked["env"])
        streams = sys.stdin, sys.stdout = os.fdopen(0), os.fdopen(1, "w")  # kept: one that is let go is closed
        from mockup.worker import main as serve

        serve(*asked["start"])
        del streams
    except BaseException:
        traceback.print_exc()
    finally:
        import atexit

        atexit._run_exitfuncs()
        os._exit(0)


if __name__ == "__main__":
    main(int(sys.argv[1]))
