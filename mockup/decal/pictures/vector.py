"""SVG art: drawn in process at a true size, the same on every machine.

What is drawn is exactly the tree that was checked here. Linked files are refused, because a drawing
must not change with the folder it lies in (nor read files that nobody named), and text is drawn only
with fonts that were given.
"""

from __future__ import annotations

import base64
import binascii
import math
import re
import threading
import zlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any
from urllib.parse import unquote_to_bytes
from xml.etree import ElementTree

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageFont

from mockup.decal.pictures import damage, formats
from mockup.decal.pictures.layers import is_named, layer_names, left_out, left_out_note
from mockup.model.units import MM_PER_INCH

_PX_PER_INCH = 96.0  # CSS Values and Units Module Level 4, 6.2; SVG 2 8.9
_PER_INCH = {  # CSS Values and Units Module Level 4, 6.2
    "": _PX_PER_INCH,
    "px": _PX_PER_INCH,
    "in": 1.0,
    "mm": MM_PER_INCH,
    "cm": MM_PER_INCH / 10.0,
    "q": MM_PER_INCH * 4.0,
    "pt": 72.0,
    "pc": 6.0,
}
_LENGTH = re.compile(r"\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)\s*([a-z]*|%)\s*", re.IGNORECASE)
_ENDLESS_PX = 1e9  # far over the limit, and short enough to print
_MAX_BYTES = 64_000_000  # of SVG text; our choice
_MAX_DEPTH = 500  # of parts in parts; drawing programs nest a few dozen: our choice
_STACK_BYTES = 128 * 2**20  # room for that many and as many again by reference, about 40 kB each (measured)
_LOOSE = ("a", "script")  # SVG 2 16.2 and 16.6: their links draw nothing
_SVG = "http://www.w3.org/2000/svg"
_XLINK = "http://www.w3.org/1999/xlink"


@dataclass(frozen=True, kw_only=True, eq=False)
class DrawnSvg:
    """A drawn SVG: `pixels` (h, w, 4) uint8 straight alpha, dots per inch (x, y) of its stated size, group names."""

    pixels: NDArray[np.uint8]
    dpi: tuple[float, float]
    notes: tuple[str, ...]
    layers: tuple[str, ...]


def is_svg(data: bytes) -> bool:
    """Return whether the bytes begin as XML or as gzip, in which only SVG is expected."""
    head = data[:4096].lstrip(b"\xef\xbb\xbf \t\r\n")
    return head.startswith((b"<", b"\x1f\x8b", b"\xff\xfe<\x00", b"\xfe\xff\x00<"))


def draw(data: bytes, name: str, *, dpi: float, fonts: Sequence[str] = (), hide: Sequence[str] = ()) -> DrawnSvg:
    """Return an SVG drawn at `dpi` dots per inch of its own size, on nothing (transparent).

    Its size is its width and height in mm, in, px and so on (96 px to the inch), or else its
    viewBox. `fonts` names font files; the first stands in for families that are not among them. Groups and other
    parts whose identifier or label is in `hide` are left out.
    Raises `InputError`.
    """
    root = _parsed(data, name)
    _check_depth(root, name)
    groups = layer_names(root, ("g",))
    _leave_out(root, hide, name)
    width_in, height_in = _size_in(root, name)
    width_px, height_px = (round(min(length * dpi, _ENDLESS_PX)) for length in (width_in, height_in))
    formats.check_size(name, width_px, height_px)
    _check_links(root, name)
    notes = _check_text(root, name, fonts)
    _resize(root, width_in, height_in, width_px, height_px)
    ElementTree.register_namespace("", _SVG)
    ElementTree.register_namespace("xlink", _XLINK)
    with formats.reading(name, "SVG"):
        text = ElementTree.tostring(root, encoding="unicode")
        png = _drawn(text, name, fonts)
        pixels = np.array(Image.open(BytesIO(png), formats=("PNG",)).convert("RGBA"), dtype=np.uint8)
    drawn_at = width_px / width_in, height_px / height_in
    return DrawnSvg(pixels=pixels, dpi=drawn_at, notes=(*notes, *left_out_note(hide)), layers=groups)


def _leave_out(root: ElementTree.Element, hide: Sequence[str], name: str) -> None:
    """Take the named groups out of a drawing; where no group has a name, any of its parts."""
    inner = [each for each in root.iter() if each is not root and isinstance(each.tag, str)]
    groups = [each for each in inner if _local(each.tag) == "g" and is_named(each)]
    gone = left_out(groups or inner, hide, name)
    for parent in [root, *inner]:
        for each in [each for each in parent if each in gone]:
            parent.remove(each)


def _parsed(data: bytes, name: str) -> ElementTree.Element:
    if data.startswith(b"\x1f\x8b"):
        stream = zlib.decompressobj(wbits=31)
        try:
            data = stream.decompress(data, _MAX_BYTES + 1)
        except zlib.error:
            raise formats.damaged(name, "its gzip data does not unpack to what was packed") from None
        if not stream.eof and len(data) <= _MAX_BYTES:
            raise formats.damaged(name, "its gzip data ends too soon")
    if len(data) > _MAX_BYTES:
        limit = _MAX_BYTES // 1_000_000
        raise formats.refused(name, f"is more than {limit} MB of SVG; the limit is {limit}", "export it as PNG")
    try:
        root = ElementTree.fromstring(data)
    except ElementTree.ParseError as error:
        line, column = error.position
        raise formats.refused(
            name, f"is not well-formed SVG (line {line}, column {column + 1})", "export it again"
        ) from None
    except (ValueError, LookupError, RecursionError):
        raise formats.refused(name, "is not SVG that can be read", "export it again") from None
    if _local(root.tag) != "svg":
        raise formats.refused(
            name, f"holds <{_local(root.tag)}>, not a picture; expected {formats.EXPECTED}", "export it as SVG or PNG"
        )
    return root


def _check_depth(root: ElementTree.Element, name: str) -> None:
    """Refuse what nests so deeply that drawing it could overflow a stack, of any program."""
    level, depth = [root], 0
    while level:
        depth += 1
        level = [child for each in level for child in each]
    if depth > _MAX_DEPTH:
        raise formats.refused(
            name,
            f"cannot be drawn: it nests {depth} groups deep; the limit is {_MAX_DEPTH}",
            "ungroup it in the drawing program, or export it as PNG",
        )


def _size_in(root: ElementTree.Element, name: str) -> tuple[float, float]:
    """Return the drawing's stated width and height in inches."""
    box = _view_box(root)
    width, height = _inches(root.get("width", "")), _inches(root.get("height", ""))
    if box is not None:
        ratio = box[3] / box[2]
        if width is None and height is None:
            width, height = box[2] / _PX_PER_INCH, box[3] / _PX_PER_INCH
        elif width is None and height is not None:
            width = height / ratio
        elif height is None and width is not None:
            height = width * ratio
    if width is None or height is None:
        raise formats.refused(name, "states no size", 'give the <svg> a width and a height, such as width="60mm"')
    if not (width > 0.0 and height > 0.0):
        raise formats.refused(name, "has a width or a height of zero or less", "give the <svg> its printed size")
    return width, height


def _inches(text: str) -> float | None:
    """Return a length in inches, or None for what is relative or absent."""
    match = _LENGTH.fullmatch(text)
    if match is None or match[2].lower() not in _PER_INCH:
        return None
    length = float(match[1]) / _PER_INCH[match[2].lower()]
    return length if math.isfinite(length) else None


def _view_box(root: ElementTree.Element) -> tuple[float, float, float, float] | None:
    try:
        x, y, width, height = (float(part) for part in re.split(r"[\s,]+", root.get("viewBox", "").strip()))
    except ValueError:
        return None
    is_whole = all(map(math.isfinite, (x, y, width, height))) and width > 0.0 and height > 0.0
    return (x, y, width, height) if is_whole else None


def _resize(root: ElementTree.Element, width_in: float, height_in: float, width_px: int, height_px: int) -> None:
    """State the size in whole pixels and keep the drawing's own units through its viewBox."""
    box = _view_box(root)
    if box is None:
        box = (0.0, 0.0, width_in * _PX_PER_INCH, height_in * _PX_PER_INCH)
        root.set("viewBox", " ".join(repr(value) for value in box))
    if abs(box[2] / width_in - box[3] / height_in) < 1e-3 * box[2] / width_in:
        root.set("preserveAspectRatio", "none")  # else rounding to whole pixels leaves a hairline at an edge
    root.set("width", str(width_px))
    root.set("height", str(height_px))


def _check_links(root: ElementTree.Element, name: str) -> None:
    """Refuse linked files, and embedded pictures that are too large once unpacked."""
    pixels = 0
    for element in root.iter():
        is_picture = _local(element.tag) in ("image", "feImage")
        if _local(element.tag) in _LOOSE:
            continue
        for key, value in element.attrib.items():
            link = value.strip()
            if _local(key) != "href" or not link or link.startswith("#"):
                continue
            if not (is_picture and link.lower().startswith("data:")):
                raise formats.refused(
                    name, f"links to {link[:60]!r}, which is not in it", "embed the picture in the SVG"
                )
            picture = _embedded(link)
            label = formats.kind_of(picture)
            if label not in ("PNG", "JPEG", "GIF", "WebP"):  # SVG 2 12.3, and what the drawing library knows
                raise formats.refused(
                    name, "embeds a picture that is neither PNG, JPEG, GIF nor WebP", "draw it in, or embed it as PNG"
                )
            with formats.reading(name, f"embedded {label}"):
                _, image = formats.open_raster(picture, name)
            pixels += image.width * image.height
            if pixels > formats.MAX_PIXELS:
                raise formats.refused(
                    name,
                    f"embeds pictures of {pixels / 1e6:.0f} megapixels; the limit is {formats.MAX_PIXELS // 1_000_000}",
                    "embed them at the size they are printed",
                )
            with formats.reading(name, f"embedded {label}"):
                harm = damage.damage(picture, label, image)
                if harm:
                    raise formats.damaged(name, f"in its embedded {label}, {harm}")
                image.load()  # the drawing library leaves out what it cannot read


def _embedded(link: str) -> bytes:
    """Return the bytes of a data URL (RFC 2397)."""
    header, _, payload = link.partition(",")
    raw = unquote_to_bytes(payload)
    if not header.lower().rstrip().endswith(";base64"):
        return raw
    try:
        return base64.b64decode(raw, validate=False)
    except binascii.Error:
        return b""


def _check_text(root: ElementTree.Element, name: str, fonts: Sequence[str]) -> tuple[str, ...]:
    """Refuse text without a font, which would silently be missing; return notes on what is left out."""
    local = {_local(element.tag) for element in root.iter()}
    has_text = any(_local(each.tag) == "text" and "".join(each.itertext()).strip() for each in root.iter())
    if has_text and not fonts:
        raise formats.refused(
            name,
            "holds text, which looks different where its fonts are missing",
            "convert the text to paths in the drawing program, or give the font files",
        )
    return ("Its <foreignObject> parts are left out.",) if "foreignObject" in local else ()


def _drawn(text: str, name: str, fonts: Sequence[str]) -> bytes:
    import resvg_py  # here: a compiled library, needed for SVG only

    options: dict[str, Any] = {}
    if fonts:
        family = ImageFont.truetype(fonts[0]).getname()[0]
        options["font_files"] = list(fonts)
        for kind in ("font", "serif", "sans_serif", "cursive", "fantasy", "monospace"):
            options[f"{kind}_family"] = family

    def draw() -> bytes:
        return bytes(resvg_py.svg_to_bytes(svg_string=text, skip_system_fonts=True, dpi=_PX_PER_INCH, **options))

    try:
        return _with_deep_stack(draw)
    except ValueError as error:
        raise formats.refused(name, f"cannot be drawn: {str(error)[:120]}", "export it as plain SVG or PNG") from None
    except BaseException as error:
        if isinstance(error, KeyboardInterrupt | SystemExit | Exception):
            raise
        raise formats.refused(name, "cannot be drawn", "export it as plain SVG or PNG") from None  # a panic in there


def _with_deep_stack(work: Callable[[], bytes]) -> bytes:
    """Return what work returns in a thread with `_STACK_BYTES`, or raise what it raises."""
    made: list[bytes] = []
    raised: list[BaseException] = []

    def run() -> None:
        try:
            made.append(work())
        except BaseException as error:  # a panic of the library is no Exception
            raised.append(error)

    usual = threading.stack_size(_STACK_BYTES)
    thread = threading.Thread(target=run, name="drawing")
    try:
        thread.start()
    finally:
        threading.stack_size(usual)
    thread.join()
    if raised:
        raise raised[0]
    return made[0]


def _local(tag: object) -> str:
    return tag.rpartition("}")[2] if isinstance(tag, str) else ""
