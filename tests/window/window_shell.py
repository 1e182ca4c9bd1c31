"""Starts windows that come as lines of JSON, each in a fork of this process, and tells how each has ended."""

from __future__ import annotations

import json
import os
import pkgutil
import sys
import warnings
from pathlib import Path

sys.path.append(str(Path(__file__).parent.parent))
import worker_shell
from shell import become, load

from mockup import window

MODULES = ("scipy.ndimage", "pyglet.image", "watchfiles", "mockup.checks.report.run", "mockup.cli.view")


def main() -> None:
    """Serve until the input ends."""
    warnings.simplefilter("ignore")
    rooms = (each.name for each in pkgutil.walk_packages(window.__path__, f"{window.__name__}."))
    load(*MODULES, *rooms, made=_open)
    worker_shell.lend()
    ended: dict[int, int] = {}
    for line in sys.stdin:
        asked = json.loads(line)
        told = _ended(asked["pid"], ended) if "pid" in asked else _begun(**asked)
        sys.stdout.write(f"{json.dumps(told)}\n")
        sys.stdout.flush()


def _open() -> None:
    """Make what the window shows of the pedal once, for every fork to remember."""
    from mockup.window.state import State
    from mockup.window.work.project import opened
    from mockup.window.work.scene_loader import SceneLoader, SceneRequest

    loader = SceneLoader(lambda _: None)
    project = opened(Path(os.environ[worker_shell.PEDAL]))
    loader.request(SceneRequest(project=project, contents=State().contents, is_fresh=True))
    assert loader.jobs.idle(120)
    loader.close()


def _ended(pid: int, ended: dict[int, int]) -> int | None:
    """Return the status with which a window has ended, None where it has not."""
    if pid not in ended:
        found, raw = os.waitpid(pid, os.WNOHANG)
        if found:
            ended[pid] = os.waitstatus_to_exitcode(raw)
    return ended.get(pid)


def _begun(args: list[str], cwd: str, errors: str, env: dict[str, str]) -> int:
    """Begin a window and return its process."""
    pid = os.fork()
    if pid == 0:
        said = os.open(errors, os.O_WRONLY | os.O_APPEND | os.O_CREAT)
        become(args, cwd, "", env, said, said)
    return pid


if __name__ == "__main__":
    main()
