"""Layered pictures: OpenRaster files, and groups of a drawing, with layers left out by name.

OpenRaster is a freedesktop.org draft (baseline 0.0.5): a zip whose first entry says what it is, stack.xml with the
layers, the uppermost first, and a PNG for each.
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from xml.etree import ElementTree

import numpy as np
from PIL import Image

from mockup.decal.pictures import formats
from mockup.model.finish import ArtFile, Artwork

_MIME = b"mimetypeimage/openraster"  # name and content of the first entry, stored as they are: draft, file layout
_MIME_AT = 30  # where the name of a zip's first entry stands: APPNOTE 4.3.7
_STACK_BYTES = 4_000_000  # of stack.xml: our choice
_LAYER_BYTES = 500_000_000  # of one layer's PNG: our choice
_MOST_LAYERS = 400  # our choice
_OVER = "svg:src-over"  # draft, composite-op: the one that every layer has if it names none
_NAMING = ("label", "name", "id")
_TOLD = 8  # names of layers in a message: our choice


def is_openraster(data: bytes) -> bool:
    """Return whether the bytes begin as an OpenRaster file."""
    return data.startswith(b"PK\x03\x04") and data[_MIME_AT : _MIME_AT + len(_MIME)] == _MIME


def openraster(data: bytes, name: str, hide: Sequence[str] = ()) -> Artwork:
    """Return a layered picture flattened, without the layers and groups that are named in `hide` or hidden in it.

    Raises `InputError` for what is no such picture, for a layer that it does not have, and for one that is too large.
    """
    with formats.reading(name, "OpenRaster"), zipfile.ZipFile(io.BytesIO(data)) as archive:
        image = ElementTree.fromstring(_entry(archive, "stack.xml", _STACK_BYTES, name))
        stack = image.find("stack")
        if stack is None:
            raise formats.damaged(name, "its stack.xml lists no layers")
        elements = [each for each in stack.iter() if each is not stack]
        names = layer_names(stack, ("layer", "stack"))
        if len(elements) > _MOST_LAYERS:
            raise formats.refused(name, f"has more than {_MOST_LAYERS} layers", "merge some of them")
        for each in left_out(elements, hide, name):
            each.set("visibility", "hidden")
        size = int(image.get("w", "0")), int(image.get("h", "0"))
        formats.check_size(name, *size)
        canvas, modes = Image.new("RGBA", size), set[str]()
        _flatten(archive, stack, canvas, name, modes)
        stated = [float(image.get(each, "0")) for each in ("xres", "yres")]
    dpi = (stated[0], stated[1]) if min(stated) > 1.0 else None
    notes = tuple(f"Layers that blend by {mode} were laid plainly over those below." for mode in sorted(modes))
    notes += left_out_note(hide)
    file = ArtFile(format="OpenRaster", mode="RGB", bits=8, dpi_from="its stack.xml" if dpi else "", layers=names)
    return Artwork(name=name, pixels=np.array(canvas, np.uint8), dpi=dpi, notes=notes, file=file)


def left_out(elements: Iterable[ElementTree.Element], hide: Sequence[str], name: str) -> list[ElementTree.Element]:
    """Return the layers and groups of these names, capitals or not; `InputError` for a name that none has."""
    named: dict[str, list[ElementTree.Element]] = {}
    shown: dict[str, str] = {}
    for each in elements:
        for called in _names(each):
            named.setdefault(called.casefold(), []).append(each)
            shown.setdefault(called.casefold(), called)
    out = []
    for wanted in hide:
        found = named.get(wanted.strip().casefold())
        if found is None:
            listed = ", ".join(list(shown.values())[:_TOLD]) + (", ..." if len(shown) > _TOLD else "")
            remedy = f"its layers are {listed}" if shown else "it has none: name its layers, or take hide out"
            raise formats.refused(name, f'has no layer "{wanted}" to hide', remedy)
        out += found
    return out


def layer_names(root: ElementTree.Element, tags: Sequence[str]) -> tuple[str, ...]:
    """Return what the layers and groups in an element are called that are shown, each once, the outermost first.

    `tags` are those of a layer or group. A label goes before a name, a name before an identifier.
    """
    found, row = dict[str, None](), [root]
    while row:
        row = [each for parent in row for each in parent if each.get("visibility") != "hidden"]
        for each in row:
            called = sorted(_called(each), key=lambda pair: _NAMING.index(pair[0]))
            if called and isinstance(each.tag, str) and each.tag.rpartition("}")[2] in tags:
                found.setdefault(called[0][1])
    return tuple(found)


def is_among(layer: str, hide: Iterable[str]) -> bool:
    """Return whether a layer's name is one of those to be left out, capitals or not."""
    return layer.casefold() in {each.strip().casefold() for each in hide}


def left_out_note(hide: Sequence[str]) -> tuple[str, ...]:
    """Return the note on a picture that some layers of it were left out."""
    return (f"Left out, as the layout says: {', '.join(hide)}.",) if hide else ()


def is_named(element: ElementTree.Element) -> bool:
    """Return whether a layer or group has a name."""
    return next(_names(element), None) is not None


def _names(element: ElementTree.Element) -> Iterator[str]:
    """Yield what a layer or a group of a drawing is called: its name, its identifier, or a label of any program."""
    for _, called in _called(element):
        yield called


def _called(element: ElementTree.Element) -> Iterator[tuple[str, str]]:
    """Yield each name of a layer or group with the attribute that it stands in."""
    for key, value in element.attrib.items():
        if (local := key.rpartition("}")[2]) in _NAMING and value.strip():
            yield local, value.strip()


def _flatten(
    archive: zipfile.ZipFile, stack: ElementTree.Element, canvas: Image.Image, name: str, modes: set[str]
) -> None:
    """Lay the layers of a stack on a canvas, the lowest first."""
    for each in reversed(stack):
        if each.get("visibility") == "hidden" or each.tag not in ("layer", "stack"):
            continue
        laid = Image.new("RGBA", canvas.size)
        if each.tag == "stack":
            _flatten(archive, each, laid, name, modes)
        else:
            laid.paste(_layer(archive, each.get("src", ""), name), (int(each.get("x", "0")), int(each.get("y", "0"))))
        opacity = min(max(float(each.get("opacity", "1")), 0.0), 1.0)
        if opacity < 1.0:
            laid.putalpha(laid.getchannel("A").point([round(code * opacity) for code in range(256)]))
        mode = each.get("composite-op", _OVER)
        if mode != _OVER:
            modes.add(mode)
        canvas.alpha_composite(laid)


def _layer(archive: zipfile.ZipFile, source: str, name: str) -> Image.Image:
    data = _entry(archive, source, _LAYER_BYTES, name)
    with Image.open(io.BytesIO(data), formats=("PNG",)) as picture:
        if picture.width * picture.height > formats.MAX_PIXELS:
            formats.check_size(name, *picture.size)
        return picture.convert("RGBA")


def _entry(archive: zipfile.ZipFile, source: str, most: int, name: str) -> bytes:
    try:
        info = archive.getinfo(source)
    except KeyError:
        raise formats.damaged(name, f'it holds no "{source}"') from None
    if info.file_size > most:
        raise formats.refused(name, f'holds more than {most // 1_000_000} MB in "{source}"', "export it as PNG")
    with archive.open(info) as entry:
        return entry.read(most)
