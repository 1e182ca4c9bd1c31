"""A long soak of a real window: 500 saves and 1000 random inputs, its memory early and late.

``python tests/bench/soak.py``; the short one of the test suite does the same with fewer.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
from pathlib import Path

SAVES, INPUTS = 500, 1000


def sizes() -> tuple[int, int]:
    """Return how many saves and inputs: those of the command line, or the usual ones."""
    given = [int(word) for word in sys.argv[1:3]]
    return (given[0], given[1]) if len(given) == 2 else (SAVES, INPUTS)


def main() -> None:
    """Soak a window and say how it went."""
    sys.path.insert(0, str(Path(__file__).parent.parent / "window"))
    import driver
    from test_app_window import EXAMPLE, soak

    with tempfile.TemporaryDirectory() as place, driver.virtual_screen((960, 820)) as screen:
        project = Path(place) / "pedal"
        shutil.copytree(EXAMPLE, project)
        window = driver.Window(screen, Path(place), "--size", "940x800", str(project))
        try:
            early, late = soak(window, project, *sizes(), told=lambda line: sys.stdout.write(line + "\n"))
            sys.stdout.write(f"{sizes()}: {early:.0f} MB half-way, {late:.0f} MB at the end, nothing slipped\n")
        finally:
            window.end()


if __name__ == "__main__":
    main()
