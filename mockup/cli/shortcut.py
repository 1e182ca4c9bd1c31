"""The command that puts the window into the system's menu."""

from __future__ import annotations

from dataclasses import dataclass

from mockup.cli.command import command
from mockup.options import option


@dataclass(frozen=True, kw_only=True)
class ShortcutOptions:
    """Where the entry goes."""

    desktop: bool = option(False, "put an icon onto the desktop too")


def _shortcut(options: ShortcutOptions) -> None:
    from mockup.window.menu_entry import make_menu_entry

    for path in make_menu_entry(on_desktop=options.desktop):
        print(path)


shortcut = command(
    "shortcut", "Put the window into the system's menu, to open it without a terminal.", _shortcut,
    lambda: ShortcutOptions,
)  # fmt: skip
