"""The only place that opens a file: layout and assets in, results out."""

from __future__ import annotations

import atexit
import contextlib
import os
import shutil
import sys
import tempfile
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from mockup import transaction, whole_file
from mockup.model.errors import Fault, InputError, OutputError, nearest, reason
from mockup.model.text import printable

MAX_TEXT_BYTES = 8 * 2**20  # far above any layout or list, which take some ten thousand: our choice
FONT_ENDINGS = (".ttf", ".otf")
LAYOUT_FILE = "layout.toml"
PARTS_FILE = "parts.toml"
BUILT_FILE = "built.toml"
PRINTERS_FILE = "printers.json"
SCREENS_FILE = "screens.json"
WINDOW_FILE = "window.json"
RECENT_FILE = "recent.json"
ORIGINS_FILE = "origins.json"
PLACES_FILE = "places.json"
UNSAVED_FOLDER = "unsaved"
FAILURE_FILE = "failure.txt"
SETTINGS_FOLDER = "MOCKUP_SETTINGS"
"""The environment variable that names another folder for what is kept between runs."""
CACHE_FOLDER = "MOCKUP_CACHE"
"""The environment variable that names another folder for finished pictures."""
CACHE_SETTINGS_FILE = "cache.json"


def read_text(path: Path, start: str = "mockup new NAME") -> str:
    """Return the text of a UTF-8 file (with or without a byte order mark).

    `start` is the command that writes such a file. Raises `InputError` where it is missing, a folder,
    unreadable or no UTF-8.
    """
    data = whole_file.read(path, path.name, start, MAX_TEXT_BYTES)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        raise InputError(
            Fault(
                file=path.name,
                what=f"is not UTF-8 text (byte 0x{data[error.start]:02x} in line {line})",
                remedy="save it again as UTF-8",
            )
        ) from None


def read_bytes(path: Path, start: str = "mockup new NAME") -> bytes:
    """Return the bytes of a file; `start` is the command that writes such a file.

    Raises `InputError` where it is missing, a folder, unreadable or too large.
    """
    return whole_file.read(path, path.name, start)


def read_beside(layout: Path, name: str) -> str | None:
    """Return the text of a file beside a layout file, such as its parts file, or None where there is none."""
    return _read_if_there(layout.parent / name)


def printers_file() -> Path:
    """Return where calibrated printers are kept: in the user's own settings folder, as the system has it."""
    return _settings() / PRINTERS_FILE


def read_printers(project: Path | None = None) -> str | None:
    """Return the text of the calibrated printers, or of those that came along with a project; None where none did."""
    return _read_if_there(printers_file() if project is None else project / PRINTERS_FILE)


def screens_file() -> Path:
    """Return where measured screens are kept: in the user's own settings folder."""
    return _settings() / SCREENS_FILE


def read_screens() -> str | None:
    """Return the text of the measured screens, or None where none was measured yet."""
    return _read_if_there(screens_file())


def window_file() -> Path:
    """Return where it is kept how the user wants the window: in the user's own settings folder."""
    return _settings() / WINDOW_FILE


def recent_file() -> Path:
    """Return where the list of recent projects is kept: in the user's own folder for state."""
    return _state() / RECENT_FILE


def failure_file() -> Path:
    """Return where the details of the last failure of the program's own are kept."""
    return _state() / FAILURE_FILE


def origins_file() -> Path:
    """Return where it is kept which layout each file was made of: in the user's own folder for state."""
    return _state() / ORIGINS_FILE


def icon_file(ending: str) -> Path:
    """Return where the program's icon is kept for the system's menu: in the user's own folder for state."""
    return _state() / f"mockup.{ending}"


def places_file() -> Path:
    """Return where it is kept which folders the user chose last: in the user's own folder for state."""
    return _state() / PLACES_FILE


def unsaved_file(key: str) -> Path:
    """Return where unsaved changes to one layout are kept; `key` is a name without folders."""
    return _state() / UNSAVED_FOLDER / f"{key}.json"


def read_state(path: Path) -> str | None:
    """Return the text of a file of the window's own, None where it is not there or cannot be read."""
    try:
        return read_text(path)
    except InputError:
        return None


def forget(path: Path) -> None:
    """Remove a file of the window's own; nothing happens where there is none."""
    with contextlib.suppress(OSError):
        path.unlink(missing_ok=True)


def _settings() -> Path:
    import platformdirs

    return Path(os.environ.get(SETTINGS_FOLDER) or platformdirs.user_config_dir("mockup", False))


def _state() -> Path:
    import platformdirs

    return Path(os.environ.get(SETTINGS_FOLDER) or platformdirs.user_state_dir("mockup", False))


def read_asset(folder: Path, name: str, source: str, beside: str = "the layout") -> bytes:
    """Return the bytes of a file that another one names; `source` is that one's name, `beside` its sort.

    Raises `InputError` where it is missing (with the nearest name in the folder), too large, or
    outside of the folder.
    """
    path = folder / name
    whole_file.check_name(path, source, name)
    try:
        is_inside = path.resolve().is_relative_to(folder.resolve())
    except (OSError, RuntimeError):  # RuntimeError: what Python before 3.13 makes of a link to itself
        raise InputError(Fault(file=source, what=f"{name!r} is a link that leads nowhere")) from None
    if not is_inside:
        raise InputError(
            Fault(
                file=source, what=f"{name!r} lies outside the project folder", remedy=f"copy it into {beside}'s folder"
            )
        )
    if not path.exists():
        there = [each.name for each in sorted(folder.iterdir()) if each.is_file() and each.name != source]
        hint = nearest(name, there) if there else f"save the file next to {beside}"
        raise InputError(Fault(file=source, what=f"{name!r} is not in {beside}'s folder", remedy=hint))
    return whole_file.read(path, name)


def project_files(folder: Path, most: int) -> dict[str, str] | None:
    """Return what lies in a project's folder by name, in order, with why it does not belong to it, "" where it does.

    None where there are more files than `most`.
    """
    found: dict[str, str] = {}
    for here, inner, names in os.walk(folder):
        around = Path(here)
        own = [name for name in inner if not _foreign(around / name)]
        listed = sorted({*names, *inner} - set(own))
        found |= {(around / name).relative_to(folder).as_posix(): _foreign(around / name) for name in listed}
        inner[:] = sorted(own)
        if len(found) > most:
            return None
    return found


def _foreign(path: Path) -> str:
    if path.name.startswith("."):
        return "hidden"
    if path.is_symlink() or not (path.is_file() or path.is_dir()):
        return "a link or a device"
    return "a project of its own" if (path / "layout.toml").exists() else ""


def system_fonts() -> list[Path]:
    """Return the font files of this computer, by name; where each system keeps them is from memory."""
    home = Path.home()
    if sys.platform == "win32":
        folders = [Path(os.environ.get("WINDIR", "C:/Windows")) / "Fonts"]
        folders.append(Path(os.environ.get("LOCALAPPDATA", home)) / "Microsoft" / "Windows" / "Fonts")
    elif sys.platform == "darwin":
        folders = [Path("/System/Library/Fonts"), Path("/Library/Fonts"), home / "Library" / "Fonts"]
    else:
        shared = os.environ.get("XDG_DATA_DIRS") or "/usr/local/share:/usr/share"
        own = os.environ.get("XDG_DATA_HOME") or str(home / ".local" / "share")
        folders = [home / ".fonts", *(Path(each) / "fonts" for each in (own, *shared.split(":")) if each)]
    found: dict[str, Path] = {}
    for folder in folders:
        with contextlib.suppress(OSError):
            for path in sorted(folder.rglob("*")):
                if path.suffix.lower() in FONT_ENDINGS and path.is_file():
                    found.setdefault(path.name, path)
    return [found[name] for name in sorted(found, key=str.lower)]


def write_all(files: Mapping[Path, bytes]) -> None:
    """Write every file or none, and finish or remove what a killed program left where they go.

    Folders are made as needed. Raises `OutputError` where anything cannot be written.
    """
    transaction.write(files)


def cache_folder() -> Path:
    """Return where finished pictures are kept: in the user's own cache folder, as the system has it."""
    import platformdirs

    return Path(os.environ.get(CACHE_FOLDER) or platformdirs.user_cache_dir("mockup", False))


def passing_folder() -> Path:
    """Return a new folder that goes when this program ends."""
    folder = Path(tempfile.mkdtemp(prefix="mockup-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return folder


def cache_settings_file() -> Path:
    """Return where it is kept how large the cache may grow."""
    return _settings() / CACHE_SETTINGS_FILE


def read_kept(path: Path) -> bytes | None:
    """Return the bytes of a file that may be gone at any time, marked as used now; None where it cannot be read."""
    try:
        data = whole_file.read(path, path.name)
    except InputError:
        return None
    with contextlib.suppress(OSError):
        os.utime(path)
    return data


def kept_files(folder: Path) -> list[tuple[Path, int, float]]:
    """Return every file one folder down as (path, bytes, time of last use), what vanishes meanwhile left out."""
    found = []
    for inner in _inside(folder):
        for path in _inside(inner):
            with contextlib.suppress(OSError):
                told = path.stat()
                found.append((path, told.st_size, told.st_mtime))
    return found


def recover(folder: Path) -> None:
    """Remove what killed programs left half-written one folder down."""
    for inner in _inside(folder):
        transaction.recover(inner)


def remove_kept(paths: Iterable[Path]) -> int:
    """Remove files and return how many went; what is gone already, or held by another program, is left."""
    gone = 0
    for path in paths:
        with contextlib.suppress(OSError):
            path.unlink()
            gone += 1
    return gone


def program_files() -> Iterator[tuple[str, bytes]]:
    """Yield (name inside the package, bytes) of every file of this program but command line and examples, in order."""
    root = Path(__file__).parent
    for path in sorted(root.rglob("*")):
        name = path.relative_to(root).as_posix()
        if path.is_file() and "__pycache__" not in name and not name.startswith(("cli/", "examples/")):
            yield name, path.read_bytes()


def example_layouts() -> tuple[Path, ...]:
    """Return the layouts of the examples that come with the program: inside it, or beside it in a checkout."""
    package = Path(__file__).parent
    folder = next((each for each in (package / "examples", package.parent / "examples") if each.is_dir()), package)
    return tuple(sorted(folder.rglob("layout.toml"), key=lambda path: path.parent.name)) if folder != package else ()


def documents_folder() -> Path:
    """Return where the user keeps documents, as the system has it."""
    import platformdirs

    return Path(platformdirs.user_documents_dir())


def listed(folder: Path) -> tuple[tuple[Path, ...], tuple[Path, ...]]:
    """Return the folders and the files in a folder by name, hidden ones left out; none where it cannot be read."""
    found = sorted((path for path in _inside(folder) if not path.name.startswith(".")), key=lambda p: p.name.casefold())
    folders = tuple(path for path in found if _is_folder(path))
    return folders, tuple(path for path in found if path not in folders)


def make_folder(folder: Path) -> None:
    """Make a folder, and those above it; raises `OutputError` where that cannot be."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise OutputError(f"{folder.name}: cannot be made here ({reason(error)})") from None


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except OSError:
        return False


def _inside(folder: Path) -> list[Path]:
    try:
        return list(folder.iterdir())
    except OSError:
        return []


def require_free(paths: list[Path]) -> None:
    """Raise `OutputError` naming the first of `paths` that is already there."""
    for path in paths:
        if path.exists():
            raise OutputError(f"{path}: is already there; choose another name or remove it first")


def title(path: Path) -> str:
    """Return what a file's project is called: its folder's name, links followed, as it can be shown."""
    try:
        return printable(path.resolve().parent.name)
    except (OSError, RuntimeError, ValueError):  # the folder has gone, or a link leads to itself
        return printable(path.absolute().parent.name)


def _read_if_there(path: Path) -> str | None:
    """Return the text of a file, None where there is no such name; a link that leads nowhere is one."""
    return read_text(path) if os.path.lexists(path) else None
