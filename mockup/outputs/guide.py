"""Make a guide to lay over the art: edges, holes, nuts, knobs and labels, pixel for pixel."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import PurePath

import numpy as np
from numpy.typing import NDArray

from mockup import films
from mockup.checks.art.sheets import Sheet
from mockup.checks.panel.built import Built
from mockup.checks.panel.guide import SETS, LineSet, Trace, traces
from mockup.decal.lettering import blank
from mockup.decal.pictures.vector import draw
from mockup.encode.markup import xml_attribute, xml_text
from mockup.encode.png import png
from mockup.fingerprint import fingerprint
from mockup.model.design import Design
from mockup.model.enclosure import DECAL_FACES
from mockup.model.errors import nearest
from mockup.model.finish import Decal
from mockup.options import Progress, Result, bad_option, file_stem, option, require_ending, silent

LINE_MM = 0.12  # two to three pixels at 600 dpi: our choice
LEAST_LINE_PX = 1.5  # thinner drowns in its own soft edge: our choice
_SVG_DPI = 96.0  # draws one user unit as one pixel: CSS Values and Units Module Level 4, 6.2
_SUFFIXES = (".png", ".svg")


@dataclass(frozen=True, kw_only=True)
class Options:
    """Which face, which lines, and where to put the guide."""

    face: str = option("top", "the face that the art lies on", choices=DECAL_FACES)
    art: str | None = option(None, "the decal's picture, where the face has several; the first one by default")
    lines: str = option(",".join(SETS), "line sets to draw, with commas between")
    output: str | None = option(None, "file to write (.png or .svg); both by default", short="o", suffixes=_SUFFIXES)


@dataclass(frozen=True, kw_only=True, eq=False)
class GuideLayer:
    """A guide ready to draw: the decal's pixel grid, and each set's lines in pixels (corner of the art at 0, 0).

    `fingerprint` is that of the design.
    """

    decal: Decal
    sets: tuple[tuple[str, LineSet, tuple[Trace, ...]], ...]
    fingerprint: str

    @property
    def per_mm(self) -> tuple[float, float]:
        """Pixels per millimetre, across and down."""
        return Sheet(self.decal).per_mm


def make(design: Design, options: Options, progress: Progress = silent) -> Result:
    """Return the guide as a transparent PNG and as SVG, or the one that was asked for."""
    paths = _paths(design, options)
    ready = layer(design, options)
    decal = ready.decal
    progress(0, 1, "guide")
    text = svg(ready)
    files = {}
    for path in paths:
        is_picture = path.lower().endswith(".png")
        files[path] = png(pixels(text, decal), dpi=decal.dpi, text=_text(design, ready)) if is_picture else text
    progress(1, 1, "done")
    rivals = [each for each in design.decals if each.face == options.face and each is not decal]
    notes = tuple(
        f"the {options.face} face has more art; for a guide to it: --art {each.art.name}"
        for each in rivals
        if options.art is None
    )
    if decal not in design.decals:
        notes = (f"the {options.face} face has no art yet: the guide covers its flat at {decal.dpi[0]:.0f} dpi",)
    facts = {
        "files": list(files),
        "art": decal.art.name if decal in design.decals else None,
        "face": options.face,
        "size_px": [decal.art.width_px, decal.art.height_px],
        "dpi": [round(each, 3) for each in decal.dpi],
        "lines": {name: len(found) for name, _, found in ready.sets},
    }
    return Result(files=files, facts=facts, notes=notes)


def layer(design: Design, options: Options) -> GuideLayer:
    """Return the guide for one decal of a face (or for a blank one over its flat); `InputError` for a bad option."""
    wanted = [word.strip() for word in options.lines.split(",") if word.strip()]
    for word in wanted:
        if word not in SETS:
            raise bad_option("lines", f"there is no line set {word!r}", nearest(word, SETS))
    if not wanted:
        raise bad_option("lines", "names no line set", "use some of: " + ",".join(SETS))
    built = Built(design)
    sheet = Sheet(_decal(design, options, built))
    sets = tuple(
        (name, look, tuple(_in_pixels(sheet, each) for each in traces(built, sheet.decal.face, name)))
        for name, look in SETS.items()
        if name in wanted
    )
    return GuideLayer(decal=sheet.decal, sets=sets, fingerprint=fingerprint(design))


def svg(ready: GuideLayer) -> bytes:
    """Return a guide as SVG: as large as the art, one user unit a pixel of it, one group a line set."""
    decal, art = ready.decal, ready.decal.art
    per_mm = sum(ready.per_mm) / 2
    width = max(LEAST_LINE_PX, LINE_MM * per_mm)
    groups = "\n".join(_group(name, look, found, per_mm) for name, look, found in ready.sets)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{decal.width_mm:.6f}mm" height="{decal.height_mm:.6f}mm" '
        f'viewBox="0 0 {art.width_px} {art.height_px}" preserveAspectRatio="none" '
        f'fill="none" stroke-width="{width:.3f}" stroke-linejoin="round">\n'
        f"<title>Guide for {xml_text(art.name)}, design {ready.fingerprint}</title>\n{groups}\n</svg>\n"
    ).encode()


def pixels(text: bytes, decal: Decal) -> NDArray[np.uint8]:
    """Return a guide's SVG drawn on nothing, (h, w, 4), one pixel for each of the art's."""
    art = decal.art
    head, _, rest = text.partition(b">")
    plain = head.split(b"width=")[0] + f'width="{art.width_px}" height="{art.height_px}" viewBox='.encode()
    return draw(plain + head.partition(b"viewBox=")[2] + b">" + rest, "guide", dpi=_SVG_DPI).pixels


def _decal(design: Design, options: Options, built: Built) -> Decal:
    if options.face not in DECAL_FACES:
        raise bad_option("face", f"there is no face {options.face!r}", nearest(options.face, DECAL_FACES))
    there = [decal for decal in design.decals if decal.face == options.face]
    if options.art is None:
        face = next(each for each in DECAL_FACES if each == options.face)
        return there[0] if there else blank(built.faces[face], "no art yet", films.films()[films.USUAL])
    for decal in there:
        if decal.art.name == options.art:
            return decal
    names = [decal.art.name for decal in there]
    remedy = nearest(options.art, names) if names else "leave --art out: the face has none"
    raise bad_option("art", f"the {options.face} face has no art {options.art!r}", remedy)


def _in_pixels(sheet: Sheet, trace: Trace) -> Trace:
    """Return a line in the art's pixels; a circle stays one where pixels are square."""
    across, down = sheet.per_mm
    circle = None
    if trace.circle is not None and abs(across / down - 1.0) < 1e-6:
        u, v, radius = trace.circle
        x, y = sheet.to_px((u, v)).tolist()
        circle = (x, y, radius * across)
    return Trace(points=sheet.to_px(trace.points), is_closed=trace.is_closed, circle=circle, about=trace.about)


def _group(name: str, look: LineSet, found: Sequence[Trace], per_mm: float) -> str:
    dash = ""
    if look.dash_mm is not None:
        mark, gap = look.dash_mm
        dash = f' stroke-dasharray="{mark * per_mm:.3f} {gap * per_mm:.3f}"'
    lines = "\n".join(_drawn(trace) for trace in found)
    return f'<g id="{name}" stroke="{look.colour}"{dash}>\n<title>{xml_text(look.about)}</title>\n{lines}\n</g>'


def _drawn(trace: Trace) -> str:
    about = f" aria-label={xml_attribute(trace.about)}"
    if trace.circle is not None:
        x, y, radius = trace.circle
        return f'<circle cx="{x:.4f}" cy="{y:.4f}" r="{radius:.4f}"{about}/>'
    path = "L".join(f"{x:.4f} {y:.4f}" for x, y in trace.points.tolist())
    end = "Z" if trace.is_closed else ""
    solid = "" if trace.is_closed else ' stroke-dasharray="none"'  # short marks and crosses are drawn whole
    return f'<path d="M{path}{end}"{solid}{about}/>'


def _text(design: Design, ready: GuideLayer) -> dict[str, str]:
    return {
        "Title": f"{design.name}: guide for {ready.decal.art.name}",
        "Source": design.source,
        "Design": ready.fingerprint,
        "Lines": "; ".join(f"{name}: {look.about} ({look.colour})" for name, look, _ in ready.sets),
    }


def _paths(design: Design, options: Options) -> tuple[str, ...]:
    if options.output is None:
        stem = f"{file_stem(design.name)}-guide-{options.face}"
        stem += f"-{file_stem(PurePath(options.art).stem)}" if options.art else ""
        return tuple(stem + suffix for suffix in _SUFFIXES)
    return (
        str(require_ending(options.output, _SUFFIXES, no_jpeg="a guide is clear between its lines, a JPEG is not")),
    )
