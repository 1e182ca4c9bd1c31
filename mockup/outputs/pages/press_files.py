"""Pages of a decal sheet as files: for the printer, and for a cutter."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import PurePath
from typing import Literal

from mockup.decal.pictures.profiles import srgb_profile
from mockup.encode.dxf import dxf
from mockup.encode.pdf import pdf
from mockup.encode.png import png
from mockup.encode.svg import svg
from mockup.options import bad_option
from mockup.outputs.pages.press import Spread

Cutter = Literal["svg", "dxf"]


def written(path: str, pages: Sequence[Spread], title: str, icc: bytes | None) -> dict[str, bytes]:
    """Return the sheet's files by name: a PDF, or a PNG for each page; `icc` is the profile of its pictures."""
    title = f"Decal sheet: {title}"
    if path.lower().endswith(".pdf"):
        return {path: pdf([each.page for each in pages], title=title, icc=icc or srgb_profile())}
    files = {}
    for number, each in enumerate(pages):
        name = path if len(pages) == 1 else beside(path, str(number + 1))
        files[name] = png(each.pixels(), dpi=each.setting.dpi, text={"Title": title}, icc=icc)
    return files


def cutting(path: str, pages: Sequence[Spread], kind: Cutter) -> dict[str, bytes]:
    """Return the files for a cutter, one for each page with cutting lines; `InputError` where there is none."""
    cut = [each for each in pages if each.cuts]
    if not cut:
        what = "no decal says how its film is cut"
        raise bad_option("cutter", what, 'write cut = "ink", "border" or "rectangle" in a [[decal]]')
    files = {}
    for number, each in enumerate(cut):
        name = beside(path, f"cut-{number + 1}" if len(cut) > 1 else "cut", kind)
        layers = each.cutting()
        files[name] = svg(replace(each.page, marks=()), layers) if kind == "svg" else dxf(layers)
    return files


def beside(path: str, word: str, ending: str = "png") -> str:
    """Return the name of a file beside another, with a word more."""
    target = PurePath(path)
    return str(target.with_name(f"{target.stem}-{word}.{ending}"))
