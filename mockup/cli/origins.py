"""Writing what a command made, and saying so where it takes the place of another project's file.

Which layout a file was made of is kept in the user's own folder for state: the files themselves do not say it, so
that equal projects give equal files.
"""

from __future__ import annotations

import contextlib
import json
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mockup.options import Result

_MOST = 5000  # files whose layout is known, the newest: our choice


def save(result: Result, layout: str | Path | None) -> tuple[str, ...]:
    """Write a result's files; return notes on those that were another layout's until now."""
    from mockup import api, files
    from mockup.model.errors import OutputError

    known, mine = _known(), str(Path(layout).resolve()) if layout is not None else ""
    places = {name: str(Path(name).absolute()) for name in result.files}
    lost: dict[str, list[str]] = {}
    for name, place in places.items():
        if known.get(place, mine) != mine and Path(place).exists():
            lost.setdefault(known[place], []).append(name)
    api.save(result)
    now = {place: origin for place, origin in known.items() if place not in places.values()}
    now |= dict.fromkeys(places.values(), mine)
    kept = dict(list(now.items())[-_MOST:])
    if any(known.get(place) != mine for place in places.values()):
        with contextlib.suppress(OutputError):  # without it the next command replaces in silence, and still writes
            files.write_all({files.origins_file(): json.dumps(kept, indent=1).encode()})
    return tuple(_said(names, origin) for origin, names in lost.items())


def _known() -> dict[str, str]:
    from mockup import files

    with contextlib.suppress(ValueError, RecursionError):
        found = json.loads(files.read_state(files.origins_file()) or "{}")
        if isinstance(found, dict) and all(isinstance(each, str) for each in found.values()):
            return found
    return {}


def _said(names: list[str], origin: str) -> str:
    more = f" and {len(names) - 1} more" if len(names) > 1 else ""
    return f"{names[0]}{more} showed {origin} until now; to keep both, name another file or folder with -o"
