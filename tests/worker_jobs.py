"""Jobs that tests give to worker processes; a module of its own, because they find it by name."""

from __future__ import annotations

import os
import signal
import time
from pathlib import Path
from typing import Any


def job(task: tuple[str, Any]) -> Any:
    """Do what a task says: square a number, fail, die, sleep, or leave a mark in a folder."""
    what, value = task
    if what == "square":
        return value * value
    if what == "process":
        time.sleep(value)
        return os.getpid()
    if what == "fail":
        raise ValueError(value)
    if what == "die":
        os.kill(os.getpid(), signal.SIGKILL)
    if what == "touch":
        Path(value).write_text(str(os.getpid()))
        time.sleep(30.0)
    return None
