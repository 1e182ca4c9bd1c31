"""Files written as one: killed at any step, all are old or all are new once the next run has looked."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from mockup import transaction
from mockup.model.errors import OutputError

NEEDS_KILL = pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system has no SIGKILL")

# Every call that changes the disk is counted; the one with the number given is never made.
_KILLED = """
import os, pathlib, shutil, signal, sys
from mockup import transaction
place, left = pathlib.Path(sys.argv[1]), int(sys.argv[2])

def counted(call):
    def counting(*given, **named):
        global left
        left -= 1
        if left == 0:
            os.kill(os.getpid(), signal.SIGKILL)
        return call(*given, **named)
    return counting

for module, names in ((os, ("open", "link", "fsync", "close")), (shutil, ("rmtree", "copymode"))):
    for name in names:
        setattr(module, name, counted(getattr(module, name)))
for name in ("mkdir", "open", "replace", "unlink"):
    setattr(pathlib.Path, name, counted(getattr(pathlib.Path, name)))
names = sys.argv[3:]
transaction.write({place / name: b"new " + name.encode() for name in names})
"""


def contents(place: Path) -> dict[str, bytes]:
    return {each.relative_to(place).as_posix(): each.read_bytes() for each in place.rglob("*") if each.is_file()}


def killed(place: Path, step: int, names: tuple[str, ...]) -> bool:
    """Write files in a process of its own that is killed at a step; return False where it came to its end before."""
    command = [sys.executable, "-c", _KILLED, str(place), str(step), *names]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode in {0, -signal.SIGKILL}, done.stderr
    return done.returncode != 0


@NEEDS_KILL
@pytest.mark.slow
@pytest.mark.parametrize(
    ("old", "names"),
    [
        (("a", "b", "frames/1"), ("a", "b", "frames/1", "frames/2")),  # replaced, and one more
        (("a",), ("a", "out/b", "out/deep/c")),  # one is replaced, a folder is new
        ((), ("out/a", "out/b")),  # a new folder: a single move
        (("out/a",), ("out/a",)),  # a single file
    ],
    ids=["replaced", "beside a new folder", "new folder", "one file"],
)
def test_killed_at_any_step_all_is_old_or_all_is_new(
    tmp_path: Path, old: tuple[str, ...], names: tuple[str, ...]
) -> None:
    before = {name: b"old " + name.encode() for name in old}
    after = before | {name: b"new " + name.encode() for name in names}
    ends: list[dict[str, bytes]] = []
    step = 0
    while True:
        step += 1
        place = tmp_path / str(step)
        place.mkdir()
        transaction.write({place / name: data for name, data in before.items()})
        if not killed(place, step, names):
            assert contents(place) == after
            break
        recover(place)
        found = contents(place)
        assert found in (before, after), f"step {step}: {sorted(found)}"
        assert not list(place.rglob(".mockup*"))
        ends.append(found)
    assert before in ends, "no kill came before the mark"
    assert after in ends or len(names) == 1, "no kill came after the mark"
    assert ends == sorted(ends, key=lambda found: found == after), "once new, new at every later step"


def recover(place: Path) -> None:
    """Look for what was left, as the next run does that writes there, until nothing is."""
    for folder in (place, *(each for each in place.rglob("*") if each.is_dir() and ".mockup" not in str(each))):
        transaction.recover(folder)
    for each in place.rglob(
        ".mockup*"
    ):  # killed between making folder and lock, which time alone tells from a live one
        assert not list(each.iterdir())
        os.utime(each, (0, 0))
        transaction.recover(each.parent)


def test_what_a_living_program_stages_is_let_alone(tmp_path: Path) -> None:
    code = (
        "import pathlib, sys\nfrom mockup import transaction\n"
        "def wait(each): print('staged', flush=True); sys.stdin.read()\n"
        "transaction._mark = wait\n"
        "transaction.write({pathlib.Path(sys.argv[1]) / 'a': b'theirs'})\n"
    )
    command = [sys.executable, "-c", code, str(tmp_path)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as other:
        assert other.stdin is not None and other.stdout is not None
        assert other.stdout.readline() == "staged\n"
        transaction.write({tmp_path / "a": b"ours"})
        (staged,) = tmp_path.glob(".mockup*/new/a")
        assert staged.read_bytes() == b"theirs"
        other.stdin.close()
        assert other.wait(20) == 0
    assert contents(tmp_path) == {"a": b"theirs"}


def test_a_move_that_is_refused_puts_all_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    names = ("a", "b", "new/c", "d")
    for name in ("a", "b", "d"):
        (tmp_path / name).write_bytes(b"old")
    real = Path.replace

    def refuse(self: Path, target: Path) -> Path:
        if self.parts[-2] == "new" and target == tmp_path / "d":
            raise PermissionError(13, "Permission denied")
        return real(self, target)

    monkeypatch.setattr(Path, "replace", refuse)
    with pytest.raises(OutputError, match=r"d: cannot be written \(permission denied\)"):
        transaction.write({tmp_path / name: b"new" for name in names})
    assert contents(tmp_path) == {"a": b"old", "b": b"old", "d": b"old"}
    assert not (tmp_path / "new").exists()


@pytest.mark.parametrize(
    ("names", "said"),
    [
        (("a", "a/b"), "cannot be written"),
        (("a/b", "a"), "cannot be written"),
        (("a", "x" * 300), r"cannot be written \(file name too long\)"),
        (("a", "b\0c"), r"cannot be written \(no system takes such a name\)"),
        (("a", "./x/../a"), "is named twice"),
        (("a", "ring/b"), "cannot be written"),
        (("a", "pipe"), "is a device or a pipe, not a file"),
    ],
)
def test_what_cannot_all_be_written_writes_nothing(tmp_path: Path, names: tuple[str, ...], said: str) -> None:
    if hasattr(os, "mkfifo"):
        os.mkfifo(tmp_path / "pipe")
    (tmp_path / "ring").symlink_to("ring")
    before = sorted(tmp_path.rglob("*"))
    with pytest.raises(OutputError, match=said):
        transaction.write({Path(f"{tmp_path}/{name}"): b"x" for name in names})
    assert sorted(tmp_path.rglob("*")) == before


def test_a_mark_that_came_with_a_folder_reaches_nothing_outside_it(tmp_path: Path) -> None:
    """Whoever sends a project may put a staging folder into it, and links to what is the receiver's own."""
    outside, project = tmp_path / "outside", tmp_path / "project"
    outside.mkdir()
    (outside / "key").write_bytes(b"mine")
    staged = project / ".mockup-0123456789ab.part"
    (staged / "new" / "way").mkdir(parents=True)
    (staged / "new" / "way" / "key").write_bytes(b"theirs")
    (staged / "lock").touch()
    (staged / "complete").touch()
    (project / "way").symlink_to(outside)
    (project / "in").mkdir()
    (staged / "new" / "in").symlink_to(outside)
    transaction.recover(project)
    assert contents(outside) == {"key": b"mine"}
    assert not staged.exists()


@pytest.mark.skipif(not hasattr(os, "geteuid"), reason="this system's files have no owners of that kind")
def test_what_another_user_left_is_let_alone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    staged = tmp_path / ".mockup-0123456789ab.part"
    (staged / "new").mkdir(parents=True)
    for name in ("lock", "complete", "new/mine"):
        (staged / name).touch()
    (tmp_path / "mine").write_bytes(b"mine")
    with monkeypatch.context() as patch:
        patch.setattr(os, "geteuid", lambda: staged.stat().st_uid + 1)
        transaction.recover(tmp_path)
    assert (tmp_path / "mine").read_bytes() == b"mine"
    transaction.recover(tmp_path)
    assert (tmp_path / "mine").read_bytes() == b"" and not staged.exists()
