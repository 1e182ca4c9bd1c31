"""A folder of plug-in files: list them, load them, read their one-line help.

A plug-in is a module that lies in a plug-in folder. Its file name, with underscores read as
hyphens, is its name; the first line of its docstring is its help text. A folder inside is a
room that the plug-ins share, and so is a module whose name begins with an underscore.
Nothing is listed by hand anywhere, so adding a plug-in is adding one file. Listing the plug-ins and
reading their help imports none of them, nor their folder, so that a command line may do it in no time.
"""

from __future__ import annotations

import functools
import importlib
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path
from types import ModuleType

_QUOTES = '"""'


@dataclass(frozen=True)
class Folder:
    """The plug-in modules that lie directly in one package.

    `package` is the dotted name of the package, for example ``mockup.hardware``.
    """

    package: str

    def names(self) -> tuple[str, ...]:
        """Return the plug-ins' names in alphabetical order, without loading any of them."""
        return _names(self)

    def summary(self, name: str) -> str:
        """Return the first line of a plug-in's docstring, its help text, read without loading it.

        Only the head of the file is looked at: to parse eight plug-ins takes longer than to start the program.
        """
        before, _, text = self._source(name).partition(_QUOTES)
        return "" if before else text.partition(_QUOTES)[0].partition("\n")[0].strip()

    def text(self, name: str, constant: str) -> str:
        """Return a long text that a plug-in gives under a constant's name, read without loading it; "" for none."""
        return self._source(name).partition(f"\n{constant} = {_QUOTES}")[2].partition(_QUOTES)[0]

    def load(self, name: str) -> ModuleType:
        """Import and return the plug-in called `name`; `KeyError` if there is none."""
        if name not in self.names():
            raise KeyError(name)
        return importlib.import_module(f"{self.package}.{name.replace('-', '_')}")

    def all(self) -> Iterator[tuple[str, ModuleType]]:
        """Yield every plug-in as (name, module), in alphabetical order."""
        for name in self.names():
            yield name, self.load(name)

    def _source(self, name: str) -> str:
        return (_place(self) / f"{name.replace('-', '_')}.py").read_text("utf-8")


@functools.cache  # plug-ins are looked up by name in every frame, and none comes while the program runs
def _names(folder: Folder) -> tuple[str, ...]:
    found = (path.stem for path in _place(folder).glob("*.py") if not path.name.startswith("_"))
    return tuple(sorted(name.replace("_", "-") for name in found))


def _place(folder: Folder) -> Path:
    spec = find_spec(folder.package)
    assert spec is not None and spec.submodule_search_locations is not None, folder.package
    return Path(spec.submodule_search_locations[0])
