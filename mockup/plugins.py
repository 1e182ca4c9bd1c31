"""A folder of plug-in files: list them, load them, read their one-line help.

A plug-in is a module that lies in a plug-in folder. Its file name, with underscores read as
hyphens, is its name; the first line of its docstring is its help text. A folder inside is a
room that the plug-ins share, and so is a module whose name begins with an underscore.
Nothing is listed by hand anywhere, so adding a plug-in is adding one file.
"""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator
from dataclasses import dataclass
from types import ModuleType


@dataclass(frozen=True)
class Folder:
    """The plug-in modules that lie directly in one package.

    `package` is the dotted name of the package, for example ``mockup.hardware``.
    """

    package: str

    def names(self) -> tuple[str, ...]:
        """Return the plug-ins' names in alphabetical order, without loading any of them."""
        root = importlib.import_module(self.package)
        found = (m.name for m in pkgutil.iter_modules(root.__path__) if not m.ispkg and not m.name.startswith("_"))
        return tuple(sorted(name.replace("_", "-") for name in found))

    def load(self, name: str) -> ModuleType:
        """Import and return the plug-in called `name`; `KeyError` if there is none."""
        if name not in self.names():
            raise KeyError(name)
        return importlib.import_module(f"{self.package}.{name.replace('-', '_')}")

    def all(self) -> Iterator[tuple[str, ModuleType]]:
        """Yield every plug-in as (name, module), in alphabetical order."""
        for name in self.names():
            yield name, self.load(name)


def summary(module: ModuleType) -> str:
    """Return the first line of a plug-in's docstring: its help text."""
    return (module.__doc__ or "").strip().partition("\n")[0]
