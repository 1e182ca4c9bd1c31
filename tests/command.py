"""Command lines as a builder types them, each run in a process of its own.

To start Python and load the libraries takes most of the time of a short command. So the processes are forked from one
that has loaded them and has done nothing else. Where the system cannot fork, each is started anew.
"""

from __future__ import annotations

import atexit
import functools
import gc
import importlib
import json
import os
import signal
import subprocess
import sys
import tempfile
import traceback
from pathlib import Path
from typing import NoReturn

ROOT = Path(__file__).parent.parent
LIMIT_S = 300
LIBRARIES = ("mockup.api", "mockup.calibrate", "mockup.checks.report", "mockup.archive", "PIL.Image", "scipy.ndimage")
GL_LIBRARIES = ("pyrender", "mockup.engines.gl.session")


def typed(*words: str, cwd: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    """Run ``mockup`` with words in a folder, with these variables of the environment beside the present ones."""
    env = {**os.environ, "PYTHONPATH": str(ROOT), **environment}
    if not hasattr(os, "fork") or "PYTHONPATH" in environment:
        command = [sys.executable, "-m", "mockup", *words]
        return subprocess.run(
            command, cwd=cwd, env=env, capture_output=True, text=True, encoding="utf-8", check=False, timeout=LIMIT_S
        )
    with tempfile.TemporaryDirectory() as place:
        streams = [f"{place}/{name}" for name in ("out", "error")]
        server = _server()
        assert server.stdin is not None
        assert server.stdout is not None
        server.stdin.write(json.dumps({"words": words, "cwd": str(cwd), "env": env, "streams": streams}) + "\n")
        server.stdin.flush()
        status = int(server.stdout.readline())
        out, error = (Path(stream).read_text(encoding="utf-8") for stream in streams)
    return subprocess.CompletedProcess(["mockup", *words], status, out, error)


@functools.cache
def _server() -> subprocess.Popen[str]:
    command = [sys.executable, str(Path(__file__))]
    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    server = subprocess.Popen(command, env=env, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)
    atexit.register(server.terminate)
    return server


def _serve() -> None:
    """Fork a process for each line of standard input, and write the status that it ended with."""
    from mockup.engines import raster

    has_gl = raster.unavailable() is None
    if has_gl and sys.platform.startswith("linux"):
        os.environ.setdefault("PYOPENGL_PLATFORM", "egl")  # as the program has it for pictures
    for name in LIBRARIES + GL_LIBRARIES * has_gl:
        importlib.import_module(name)
    gc.collect()
    gc.freeze()  # what is loaded is the same in every process: nobody looks through it, which would copy it
    for line in sys.stdin:
        child = os.fork()
        if not child:
            _run(**json.loads(line))
        _, ended = os.waitpid(child, 0)
        sys.stdout.write(f"{os.waitstatus_to_exitcode(ended)}\n")
        sys.stdout.flush()


def _run(words: list[str], cwd: str, env: dict[str, str], streams: list[str]) -> NoReturn:
    """Be the process of one command line."""
    signal.alarm(LIMIT_S)
    os.chdir(cwd)
    os.environ.clear()
    os.environ.update(env)
    ends = [os.open(name, os.O_WRONLY | os.O_CREAT) for name in streams]
    for number, end in enumerate([os.open(os.devnull, os.O_RDONLY), *ends]):
        os.dup2(end, number)
    encoding = env.get("PYTHONIOENCODING", "utf-8")
    sys.stdout, sys.stderr = (open(number, "w", encoding=encoding) for number in (1, 2))  # noqa: SIM115, PTH123
    sys.argv = ["mockup", *words]
    from mockup.cli import main

    status = 1
    try:
        main()
    except SystemExit as error:
        status = int(error.code or 0)
    except BaseException:
        traceback.print_exc()
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
        atexit._run_exitfuncs()
        os._exit(status)  # to take the interpreter down piece by piece would copy every page of it


if __name__ == "__main__":
    _serve()
