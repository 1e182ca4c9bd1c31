"""Write the types of `mockup`'s public functions: ``python tests/python_stub.py``.

A tool that reads types sees what a plug-in offers only where it is written down; `mockup/__init__.pyi` is
written from the plug-ins themselves, so nothing is listed by hand.
"""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import mockup
from mockup.comparison.options import CompareOptions
from mockup.comparison.sweep.options import SweepOptions
from mockup.comparison.wander.options import WanderOptions
from mockup.options import DesignRequest, OptionField, option_fields
from mockup.outputs import OUTPUTS

STUB = Path(mockup.__file__).with_suffix(".pyi")
_LAYOUT = "layout: Design | str | Path | None = ..."
_READS = {
    "layout": "Sequence[Design | str | Path]",
    "variants": "Sequence[Design]",
    "file": "str | Path | tuple[str, bytes] | None",
}
_LINE = 120


def stub() -> str:
    """Return the whole stub."""
    doors = {name.replace("-", "_"): name for name in OUTPUTS.names()}
    homes = {home: [n for n in names if n not in _TYPED] for home, names in sorted(mockup._HOMES.items())}
    lines = [
        '"""The types of what `mockup` offers; written by ``python tests/python_stub.py``."""',
        "",
        "from collections.abc import Callable, Mapping, Sequence",
        "from pathlib import Path",
        "from typing import Any",
        "",
        *(f"from mockup import {name} as {name}" for name in mockup._MODULES),
        *(f"from {home} import {name} as {name}" for home, names in homes.items() for name in sorted(names)),
        "from mockup.comparison.sweep.options import By",
        "from mockup.model.scene import Look, Quality, Stage",
        "from mockup.model.units import Unit",
        "from mockup.options import Progress",
        "from mockup.outputs.pages.press import WhiteAs",
        "from mockup.outputs.pages.press_files import Cutter",
        "from mockup.picture.shots import Take",
        "",
        "__version__: str",
        "_HOMES: dict[str, tuple[str, ...]]",
        "",
    ]
    blocks = [_function(name, _typed(*what[1:]), what[0], _about(name)) for name, what in _TYPED.items()]
    blocks += [door(name) for name in doors.values()]
    blocks.append(
        "def __getattr__(name: str) -> Callable[..., Result]: ...  # an output that is newer than this file\n"
    )
    return "\n".join([*lines, *blocks])


def door(name: str) -> str:
    """Return the stub of one output's function."""
    module = OUTPUTS.load(name)
    parameters = _typed(_LAYOUT, DesignRequest, module.Options)
    return _function(name.replace("-", "_"), parameters, "Result", OUTPUTS.summary(name))


_TYPED: dict[str, tuple[Any, ...]] = {
    "compare": (
        "Comparison",
        "layouts: Mapping[str, Design] | Sequence[Design | str | Path]",
        CompareOptions,
        "take: Take = ...",
    ),
    "sweep": ("Sweep", "layout: str | Path | Sequence[str]", SweepOptions),
    "wander": ("Result", "layout: str | Path | Sequence[str], wander: str", WanderOptions),
}


def _typed(first: str, *more: Any) -> list[str]:
    """Return the parameters of a function: the first ones, then keywords, one for each field."""
    found: dict[str, str] = {}
    for each in more:
        if isinstance(each, str):
            found[each] = each
            continue
        for field in option_fields(each):
            if f"{field.name}:" not in first:
                found[field.name] = f"{field.name}: {_type(field)} = ..."
    return [first, "*", *found.values(), "progress: Progress = ..."]


def _type(field: OptionField) -> str:
    if field.reads in _READS:
        return _READS[field.reads]
    return re.sub(r"^tuple\[(\w+), \.\.\.\]$", r"Sequence[\1]", field.type)


def _about(name: str) -> str:
    return str(getattr(mockup, name).__doc__).strip().partition("\n")[0]


def _function(name: str, parameters: Iterable[str], result: str, about: str) -> str:
    body = ",\n".join(f"    {each}" for each in parameters)
    return f'def {name}(\n{body},\n) -> {result}:\n    """{about}"""\n'


if __name__ == "__main__":
    STUB.write_text(stub(), "utf-8")
    for tool in (["check", "--fix", "--select", "I,F401"], ["format"]):
        subprocess.run([sys.executable, "-m", "ruff", *tool, "--quiet", str(STUB)], check=True)
