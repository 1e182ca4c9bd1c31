"""A comparison as one page for a browser: pictures, models that turn together, what differs, figures."""

from __future__ import annotations

from collections.abc import Sequence

from mockup import __version__
from mockup.comparison.differences.items import Item
from mockup.comparison.sheet import pages, tables
from mockup.comparison.sheet.marks import is_blind, marks
from mockup.comparison.sheet.pages import Compared
from mockup.encode.document import Block, Document, Gallery, Lineup, Paragraph, Photo, Section, TextTable
from mockup.encode.gltf import glb_of_several
from mockup.encode.html import html
from mockup.encode.jpeg import jpeg_photo
from mockup.encode.pixels import pixels
from mockup.lights import presets
from mockup.model.design import Design
from mockup.model.scene import Lighting
from mockup.model.sheet import Image, Page
from mockup.model.text import capitalized
from mockup.options import file_stem
from mockup.picture.shots import Sight
from mockup.scene.assemble import assemble
from mockup.scene.views import VIEWS

MOST_ACROSS = 4  # a page is read upright and about a hand wide: our taste
_TEXTURE_PX = {True: 1024, False: 2048}  # the art in a model, for more than `MOST_ACROSS` and up to it: our choice


def html_page(shown: Compared, lighting: Lighting, *, has_marks: bool) -> bytes:
    """Return the page as UTF-8; it needs nothing beside it."""
    numbered = [shown.numbered(index) for index in range(len(shown.entries))]
    count = len(shown.entries)
    beside = across(count)
    galleries: list[Block] = []
    for sight in shown.sights:
        photos = tuple(_photo(shown, index, sight, numbered[index], has_marks) for index in range(count))
        galleries.append(Gallery(photos=photos, across=beside))
    spin = Lineup(
        names=tuple(pages.named(shown, index) for index in range(count)),
        data=_models([entry.design for entry in shown.entries]),
        alts=tuple(f"3D model of {pages.named(shown, index)}, to turn" for index in range(count)),
        file_name=f"{file_stem(shown.entries[0].design.name)}.glb",
        across=beside,
    )
    sections = (
        Section(heading="Side by side", blocks=tuple(galleries)),
        Section(heading="Turn one, and all turn", blocks=(spin,)),
        Section(
            heading=f"What differs from {pages.named(shown, 0)}", blocks=tuple(_differing(shown, numbered, has_marks))
        ),
        Section(heading="Figures", blocks=(_table(shown, tables.figure_rows(shown.entries)),)),
        *_labels(shown),
    )
    under = f"{count} side by side: same camera, light, scale and crop."
    foot = (
        f"Made with mockup {__version__}. Pictures and figures are an aid: measure your own box and parts before you "
        "drill. Local codes and the products' own safety sheets come first."
    )
    document = Document(title=shown.title, under=under, sections=sections, foot=foot, sort="side by side")
    return html(document, lighting)


def across(count: int) -> int:
    """Return how many stand in a row, so that the last row is as full as can be."""
    return min(range(min(count, MOST_ACROSS), 1, -1), key=lambda wide: (-count % wide, -wide))


def _photo(shown: Compared, index: int, sight: Sight, numbered: Sequence[Item], has_marks: bool) -> Photo:
    entry = shown.entries[index]
    wide, tall = sight.width_px, sight.height_px
    shown_px = pages.pixels(entry, sight)
    if has_marks and numbered:
        drawn = marks(numbered, entry.design, sight, (0.0, 0.0, wide, tall), shown_px)
        whole = Image(x_mm=0.0, y_mm=0.0, width_mm=wide, height_mm=tall, pixels=shown_px)
        shown_px = pixels(Page(width_mm=wide, height_mm=tall, marks=(whole, *drawn)), 1.0)
    said = [shown.said(index)] if sight is shown.sights[0] else []
    if has_marks and is_blind(numbered, entry.design, sight):
        said.append(f"{pages.UNMARKED} in this view")
    return jpeg_photo(
        f"{tables.letter(index).lower()}-{sight.view}.jpg",
        shown_px,
        alt=f"{entry.design.name}, {entry.label}, {VIEWS[sight.view].about}",
        caption=": ".join([pages.named(shown, index), *(["; ".join(said)] if said else [])]),
    )


def _models(designs: Sequence[Design]) -> bytes:
    """Return one model file with a scene for each design."""
    scenes = [(design.name, assemble(design, presets()["bench"])) for design in designs]
    texture_px = _TEXTURE_PX[len(designs) > MOST_ACROSS]
    return glb_of_several(scenes, generator=f"mockup {__version__}", texture_px=texture_px)


def _differing(shown: Compared, numbered: Sequence[Sequence[Item]], has_marks: bool) -> list[Block]:
    rows = [
        (pages.named(shown, index).replace(" ", "\u00a0"), str(item.number), capitalized(item.text))
        for index in range(1, len(shown.entries))
        for item in numbered[index]
    ]
    found: list[Block] = [Paragraph(text=pages.legend(shown))] if has_marks and rows else []
    if rows:
        found.append(TextTable(head=("Pedal", "No.", "What differs"), rows=tuple(rows), is_right=(1,)))
    found += [Paragraph(text=line) for line in pages.unlisted(shown)]
    return found


def _labels(shown: Compared) -> tuple[Section, ...]:
    rows = tables.label_rows(shown.entries)
    if not rows:
        return ()
    if tables.is_shared(rows):
        table = _table(shown, rows)
    else:
        table = TextTable(head=tables.LIST_HEAD, rows=tables.label_list(shown.entries))
    return (Section(heading="How each label reads", blocks=(Paragraph(text=pages.READING), table)),)


def _table(shown: Compared, rows: Sequence[tables.Row]) -> TextTable:
    strong = {
        (number, place + 1)
        for number, (_, values) in enumerate(rows)
        for place in range(len(values))
        if pages.is_other(shown, place, values)
    }
    return TextTable(
        head=("", *(pages.named(shown, index) for index in range(len(shown.entries)))),
        rows=tuple((name, *values) for name, values in rows),
        strong=frozenset(strong),
    )
