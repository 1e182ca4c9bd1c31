"""Runs `mockup` commands that come as lines of JSON, each in a fork of this process, and tells how each ended."""

from __future__ import annotations

import gc
import importlib
import io
import json
import os
import resource
import select
import signal
import sys
import tempfile
import time
import traceback
from collections.abc import Callable

from mockup.checks import CHECKS
from mockup.engines import raster
from mockup.outputs import OUTPUTS

LIBRARIES = ("PIL.Image", "scipy.ndimage")
ROOMS = ("api", "archive", "calibrate", "checks.report.run", "cli", "comparison.api")


def main() -> None:
    """Serve until the input ends."""
    load_program()
    for line in sys.stdin:
        sys.stdout.write(json.dumps(_run(**json.loads(line))) + "\n")
        sys.stdout.flush()


def load_program() -> None:
    """Load what commands and worker processes need, GL off screen."""
    if raster.unavailable() is None and sys.platform.startswith("linux"):
        os.environ.setdefault("PYOPENGL_PLATFORM", "egl")  # as the program has it for pictures
        importlib.import_module("mockup.engines.gl.session")
    load(*LIBRARIES, *(f"mockup.{name}" for name in ROOMS))


def load(*modules: str, made: Callable[[], None] = lambda: None) -> None:
    """Load modules and plug-ins for every fork to have, and what is `made` by them."""
    for module in modules:
        importlib.import_module(module)
    for folder in (CHECKS, OUTPUTS):
        for name in folder.names():
            folder.load(name)
    made()
    gc.collect()
    gc.freeze()  # what is loaded stays as it is: a collection in a fork would copy all of it


def _run(args: list[str], cwd: str, out: str, limit_s: float, env: dict[str, str]) -> dict[str, object]:
    with tempfile.TemporaryFile("w+b") as said, tempfile.TemporaryFile("w+b") as cried:
        started = time.perf_counter()
        child = os.fork()
        if child == 0:
            become(args, cwd, out, env, said.fileno(), cried.fileno())
        status: int | None = None
        used = None
        handle = os.pidfd_open(child)
        if select.select([handle], [], [], limit_s)[0]:
            _, raw, used = os.wait4(child, 0)
            status = os.waitstatus_to_exitcode(raw)
        else:
            os.killpg(child, signal.SIGKILL)
            os.wait4(child, 0)
        os.close(handle)
        texts = []
        for each in (said, cried):
            each.seek(0)
            texts.append(each.read(200_000).decode(errors="replace"))
        return {
            "status": status,
            "out": texts[0],
            "err": texts[1],
            "seconds": time.perf_counter() - started,
            "peak_mb": used.ru_maxrss / 1024 if used is not None else 0.0,
        }


def become(args: list[str], cwd: str, out: str, env: dict[str, str], said: int, cried: int) -> None:
    """Be the command, and end with it: `out` is a device to print to, `said` and `cried` are descriptors."""
    code = 99
    try:
        os.setsid()
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        os.chdir(cwd)
        os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
        os.dup2(os.open(out, os.O_WRONLY) if out else said, 1)
        os.dup2(cried, 2)
        os.environ.clear()
        os.environ.update(env)
        encoding = env.get("PYTHONIOENCODING", "utf-8")
        sys.stdin = io.StringIO()
        sys.stdout, sys.stderr = (open(number, "w", encoding=encoding) for number in (1, 2))  # noqa: SIM115, PTH123
        sys.argv = ["mockup", *args]
        from mockup.cli import main as command

        try:
            command()
        except SystemExit as ended:
            code = ended.code if isinstance(ended.code, int) else 0 if ended.code is None else 1
        sys.stdout.flush()
        sys.stderr.flush()
    except BaseException:
        traceback.print_exc()
    finally:
        _end_helpers()
        os._exit(code)


def _end_helpers() -> None:
    """Do what the interpreter would do at its end: processes that read art end with the one that began them."""
    import atexit

    atexit._run_exitfuncs()


if __name__ == "__main__":
    main()
