"""Command lines as a builder types them, each in a process of its own.

To start Python and load the libraries takes most of the time of a short command. So the processes are forked from one
that has loaded them and has done nothing else (see shell.py).
"""

from __future__ import annotations

import atexit
import functools
import json
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

LIMIT_S = 300.0


@dataclass(frozen=True, kw_only=True)
class Answer:
    """How a command ended: its status (None where it was stopped), what it printed, its time and memory."""

    status: int | None
    out: str
    err: str
    seconds: float
    peak_mb: float


class Shell:
    """Runs commands one after the other, each in a fork of a process that has the program loaded already."""

    def __init__(self) -> None:
        command = [sys.executable, str(Path(__file__).with_name("shell.py"))]
        env = {**os.environ, "PYTHONPATH": str(Path(__file__).parent.parent)}
        self._process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, env=env)

    def run(self, *args: str, cwd: Path, out: str = "", limit_s: float = LIMIT_S, **environment: str) -> Answer:
        """Return how `mockup` ends with these arguments.

        `out` is a device to print to; the environment is the present one and what is given beside it.
        """
        assert self._process.stdin is not None and self._process.stdout is not None
        env = {**os.environ, **environment}
        asked = {"args": args, "cwd": str(cwd), "out": out, "limit_s": limit_s, "env": env}
        self._process.stdin.write(json.dumps(asked) + "\n")
        self._process.stdin.flush()
        return Answer(**json.loads(self._process.stdout.readline()))

    def close(self) -> None:
        """End the process."""
        if self._process.stdin is not None:
            self._process.stdin.close()
        self._process.wait(20)
        if self._process.stdout is not None:
            self._process.stdout.close()


def typed(*words: str, cwd: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    """Run ``mockup`` in a folder, started anew where the system has no such forks or other paths are given."""
    if not hasattr(os, "pidfd_open") or "PYTHONPATH" in environment:
        env = {**os.environ, **environment}
        return subprocess.run(
            [sys.executable, "-m", "mockup", *words], cwd=cwd, env=env, timeout=LIMIT_S, check=False,
            capture_output=True, text=True, encoding="utf-8",
        )  # fmt: skip
    answer = _shell().run(*words, cwd=cwd, **environment)
    assert answer.status is not None, "it did not end"
    return subprocess.CompletedProcess(["mockup", *words], answer.status, answer.out, answer.err)


@functools.cache
def _shell() -> Shell:
    shell = Shell()
    atexit.register(shell.close)
    return shell
