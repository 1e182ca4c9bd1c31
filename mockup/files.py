"""The only place that opens a file: layout and assets in, results out."""

from __future__ import annotations

import contextlib
import os
import secrets
import shutil
from collections.abc import Mapping
from pathlib import Path

from mockup.model.errors import Fault, InputError, OutputError, nearest

MAX_ASSET_BYTES = 512 * 2**20  # far above any sensible art file; keeps memory bounded
PARTS_FILE = "parts.toml"
PRINTERS_FILE = "printers.json"
SCREENS_FILE = "screens.json"
RECENT_FILE = "recent.json"
UNSAVED_FOLDER = "unsaved"
SETTINGS_FOLDER = "MOCKUP_SETTINGS"
"""The environment variable that names another folder for what is kept between runs."""


def read_text(path: Path, start: str = "mockup new NAME") -> str:
    """Return the text of a UTF-8 file (with or without a byte order mark).

    `start` is the command that writes such a file. Raises `InputError` where it is missing, a folder,
    unreadable or no UTF-8.
    """
    data = _read(path, path.name, start)
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
    return _read(path, path.name, start)


def read_parts(layout: Path) -> str | None:
    """Return the text of the parts file beside a layout file, or None where there is none."""
    path = layout.parent / PARTS_FILE
    return read_text(path) if path.exists() else None


def printers_file() -> Path:
    """Return where calibrated printers are kept: in the user's own settings folder, as the system has it."""
    return _settings() / PRINTERS_FILE


def read_printers() -> str | None:
    """Return the text of the calibrated printers, or None where none was kept yet."""
    path = printers_file()
    return read_text(path) if path.exists() else None


def screens_file() -> Path:
    """Return where measured screens are kept: in the user's own settings folder."""
    return _settings() / SCREENS_FILE


def read_screens() -> str | None:
    """Return the text of the measured screens, or None where none was measured yet."""
    path = screens_file()
    return read_text(path) if path.exists() else None


def recent_file() -> Path:
    """Return where the list of recent projects is kept: in the user's own folder for state."""
    return _state() / RECENT_FILE


def unsaved_file(key: str) -> Path:
    """Return where unsaved changes to one layout are kept; `key` is a name without folders."""
    return _state() / UNSAVED_FOLDER / f"{key}.json"


def read_state(path: Path) -> str | None:
    """Return the text of a file of the window's own, None where it is not there or cannot be read."""
    try:
        return path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError):
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
    if not path.resolve().is_relative_to(folder.resolve()):
        raise InputError(
            Fault(
                file=source, what=f"{name!r} lies outside the project folder", remedy=f"copy it into {beside}'s folder"
            )
        )
    if not path.exists():
        there = [each.name for each in sorted(folder.iterdir()) if each.is_file() and each.name != source]
        hint = nearest(name, there) if there else f"save the file next to {beside}"
        raise InputError(Fault(file=source, what=f"{name!r} is not in {beside}'s folder", remedy=hint))
    return _read(path, name)


def write_all(files: Mapping[Path, bytes]) -> None:
    """Write every file or none: all go to temporary names first and are then renamed.

    Folders are made as needed. Raises `OutputError` where anything cannot be written.
    """
    staged: list[tuple[Path, Path]] = []
    try:
        for path, data in files.items():
            if path.is_dir():
                raise OutputError(f"{path}: is a folder; give a file name to write to")
            path.parent.mkdir(parents=True, exist_ok=True)
            temporary = path.with_name(f".{path.name}.{secrets.token_hex(4)}.part")
            staged.append((temporary, path))
            with temporary.open("xb") as handle:
                handle.write(data)
                handle.flush()
                os.fsync(handle.fileno())
        for temporary, path in staged:
            with contextlib.suppress(OSError):  # whoever may read it now may read it then, where there is such a thing
                shutil.copymode(path, temporary)
            temporary.replace(path)
    except OSError as error:
        where = error.filename2 or (staged[-1][1] if staged else error.filename)
        raise OutputError(f"{where}: cannot be written ({_reason(error)}); choose another place with -o") from None
    finally:
        for temporary, _ in staged:
            with contextlib.suppress(OSError):
                temporary.unlink(missing_ok=True)


def require_free(paths: list[Path]) -> None:
    """Raise `OutputError` naming the first of `paths` that is already there."""
    for path in paths:
        if path.exists():
            raise OutputError(f"{path}: is already there; choose another name or remove it first")


def _read(path: Path, name: str, start: str = "mockup new NAME") -> bytes:
    try:
        if path.is_dir():
            inside = path / "layout.toml"
            hint = f"give the file in it: {inside}" if inside.exists() else "give the layout file itself"
            raise InputError(Fault(file=str(path), what="is a folder, expected a file", remedy=hint))
        size = path.stat().st_size
        if size > MAX_ASSET_BYTES:
            raise InputError(
                Fault(
                    file=name,
                    what=f"is {size / 2**20:.0f} MiB large; the limit is {MAX_ASSET_BYTES // 2**20} MiB",
                    remedy="save it smaller",
                )
            )
        return path.read_bytes()
    except FileNotFoundError:
        raise InputError(
            Fault(file=str(path), what="there is no such file", remedy=f"check the path, or start with: {start}")
        ) from None
    except OSError as error:
        raise InputError(Fault(file=str(path), what=f"cannot be read ({_reason(error)})")) from None


def _reason(error: OSError) -> str:
    return (error.strerror or str(error)).lower()
