"""A document as one HTML page that needs nothing beside it: pictures, face, styles and scripts inside."""

from __future__ import annotations

import base64
import gzip
import hashlib
import json
from collections.abc import Sequence
from importlib import resources

from mockup import fonts
from mockup.encode import viewer
from mockup.encode.document import (
    Block,
    Document,
    Gallery,
    Lineup,
    Paragraph,
    Photo,
    Section,
    Spin,
    Steps,
    TextTable,
    Wipe,
)
from mockup.encode.markup import html_text
from mockup.model.scene import Lighting

_VIEWS = (("Front", "-0.5145,0.8761"), ("Above", "0,0.02"), ("Back", "2.6,0.95"), ("Inside", "2.863,3.491"))
"""Buttons of the viewer: azimuth and angle from straight up, in radians.

Past straight below (more than pi) the picture stands on its head, as a pedal does that is turned over sideways:
"Inside" is the view of that name.
"""
_MANY = 5  # columns; a table of more has short cells, which stand two beside one another on a phone

_SCRIPTS: dict[type[Block], str] = {Spin: "viewer", Lineup: "lineup"}
"""Our script for each block that holds models; a page holds one such block."""


def html(document: Document, lighting: Lighting) -> bytes:
    """Return the page as UTF-8; a model in it is lit by `lighting`.

    It loads nothing from anywhere, and tells the browser to let it load and run nothing but what is in it. Raises
    `OutputError` where the viewer's script is not to be had.
    """
    blocks = [block for section in document.sections for block in section.blocks]
    name = next((_SCRIPTS[type(block)] for block in blocks if type(block) in _SCRIPTS), "")
    scripts = [_one_line_ends(each) for each in (viewer.library(), f"\n{viewer.own_script(name)}")] if name else []
    style = _one_line_ends(f"\n{_faces()}{_page_style()}{_columns(blocks)}")
    body = "\n".join(_section(section) for section in document.sections)
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{_policy(style, scripts)}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<link rel="icon" href="data:,">\n'
        f"<title>{html_text(document.title)}: {html_text(document.sort)}</title>\n"
        f"<style>{style}</style>\n</head>\n<body>\n"
        f'<header>\n<h1>{html_text(document.title)}</h1>\n<p class="under">{html_text(document.under)}</p>\n</header>\n'
        f"<main>\n{body}\n</main>\n<footer>{html_text(document.foot)}</footer>\n"
        f"{_scripts(lighting, scripts) if scripts else ''}</body>\n</html>\n"
    ).encode()


def _policy(style: str, scripts: Sequence[str]) -> str:
    """Return the page's Content-Security-Policy (level 3): scripts and style by hash, the rest as data.

    A model's pictures are unpacked to blobs by its loader. Blocks of data in script elements are not run.
    """
    allowed = {
        "default-src": ["'none'"],
        "script-src": [_hash(each) for each in scripts],
        "style-src": [_hash(style)],
        "font-src": ["data:"],
        "img-src": ["data:", *(["blob:"] if scripts else [])],
        "connect-src": ["blob:"] if scripts else [],
        "base-uri": ["'none'"],
        "form-action": ["'none'"],
    }
    return "; ".join(" ".join((name, *sources)) for name, sources in allowed.items() if sources)


def _hash(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def _one_line_ends(text: str) -> str:
    """Return text with its lines ended as a browser reads them, which is what it hashes."""
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _page_style() -> str:
    return (resources.files("mockup") / "encode" / "page" / "page.css").read_text("utf-8")


def _columns(blocks: Sequence[Block]) -> str:
    """Return the style of galleries of so many columns: in the page's own, for no element has one of its own."""
    counts = {block.across for block in blocks if isinstance(block, Gallery | Lineup) and block.across}
    return "".join(f".across-{count} {{ --across: {count}; }}\n" for count in sorted(counts))


def _faces() -> str:
    with fonts.paths() as files:
        return "".join(
            f'@font-face {{ font-family: "{fonts.FAMILY}"; font-weight: {fonts.WEIGHTS[is_bold]}; '
            f'src: url("{_inline(path.read_bytes(), "font/ttf")}") format("truetype"); }}\n'
            for is_bold, path in files.items()
        )


def _scripts(lighting: Lighting, scripts: Sequence[str]) -> str:
    light = json.dumps(viewer.studio(lighting)).replace("<", "\\u003c")
    return f'<script type="application/json" id="studio">{light}</script>\n' + "".join(
        f"<script>{each}</script>\n" for each in scripts
    )


def _section(section: Section) -> str:
    blocks = "\n".join(_block(block) for block in section.blocks)
    kind = ' class="moving"' if _is_moving(section) else ""
    return f"<section{kind}>\n<h2>{html_text(section.heading)}</h2>\n{blocks}\n</section>"


def _is_moving(section: Section) -> bool:
    """Return whether a section holds nothing but what moves: on paper it says nothing that the stills do not."""
    return all(
        isinstance(block, Spin) or (isinstance(block, Gallery) and all(each.is_moving for each in block.photos))
        for block in section.blocks
    )


def _block(block: Block) -> str:
    if isinstance(block, Paragraph):
        text = f"<p>{html_text(block.text)}</p>"
        return f'<div class="caution">{text}</div>' if block.is_caution else text
    if isinstance(block, TextTable):
        return _table(block)
    if isinstance(block, Steps):
        return "<ol>\n" + "\n".join(f"<li>{html_text(step)}</li>" for step in block.steps) + "\n</ol>"
    if isinstance(block, Gallery):
        even = f" even across-{block.across}" if block.across else ""
        return f'<div class="gallery{even}">\n' + "\n".join(_figure(photo) for photo in block.photos) + "\n</div>"
    if isinstance(block, Wipe):
        return _wipe(block)
    return _lineup(block) if isinstance(block, Lineup) else _spin(block)


def _figure(photo: Photo) -> str:
    return (
        f'<figure><img src="{_inline(photo.data, photo.media)}" width="{photo.width_px}" height="{photo.height_px}" '
        f'alt="{html_text(photo.alt)}"><figcaption>{html_text(photo.caption)}</figcaption></figure>'
    )


def _wipe(wipe: Wipe) -> str:
    """Return two pictures over one another; a browser lets the width of the upper one be dragged, without a script."""
    first, second = (
        f'<img src="{_inline(each.data, each.media)}" width="{each.width_px}" height="{each.height_px}" '
        f'alt="{html_text(each.alt)}">'
        for each in (wipe.first, wipe.second)
    )
    return (
        f'<div class="wipe">{first}<div class="over">{second}</div></div>\n<p class="says">Drag the lower right corner '
        f"of the upper picture. Left of it: {html_text(wipe.second.caption)}. Right of it: "
        f"{html_text(wipe.first.caption)}.</p>"
    )


def _table(table: TextTable) -> str:
    sides = [' class="right"' if i in table.is_right else "" for i in range(len(table.head))]
    head = "".join(
        f'<th scope="col"{side}>{html_text(cell)}</th>' for cell, side in zip(table.head, sides, strict=True)
    )
    rows = []
    for number, row in enumerate(table.rows):
        cells = ""
        for place, (name, cell, side) in enumerate(zip(table.head, row, sides, strict=True)):
            tone = f' class="{table.tones[number]}"' if place == 0 and table.tones else side
            held = f"<span>{html_text(cell)}</span>" if cell else ""
            if (number, place) in table.strong:
                held = f"<b>{held}</b>"
            cells += f'<td{tone} data-head="{html_text(name)}">{held}</td>'
        rows.append(f"<tr>{cells}</tr>")
    body = "\n".join(rows)
    inner = f"<thead><tr>{head}</tr></thead>\n<tbody>\n{body}\n</tbody>"
    kind = "stacks many" if len(table.head) > _MANY else "stacks"
    return f'<div class="wide"><table class="{kind}">{inner}</table></div>'


def _spin(spin: Spin) -> str:
    buttons = _buttons()
    steps = ""
    if len(spin.models) > 1:
        named = "".join(
            f'<button type="button" data-variant="{number}" aria-pressed="{"true" if number == 0 else "false"}">'
            f"{html_text(name)}</button>"
            for number, (name, _) in enumerate(spin.models)
        )
        steps = f'<div class="buttons" role="group" aria-label="variant"><span>Variant</span>{named}</div>\n'
    models = _packed(spin.models)
    return (
        f'<div id="viewer" data-state="loading">\n<div class="stage" data-label="{html_text(spin.alt)}"></div>\n'
        f'<div class="buttons" role="group" aria-label="view and parts">{buttons}</div>\n{steps}'
        '<p class="says">Drag to turn; pinch, or click and use the wheel, to come closer; the arrow keys and + and - '
        "do the same.</p>\n<noscript><p>The model needs scripts; the pictures show the same.</p></noscript>\n"
        f"</div>\n{models}"
    )


def _lineup(lineup: Lineup) -> str:
    stages = "\n".join(
        f'<figure><div class="stage" data-label="{html_text(alt)}"></div>'
        f"<figcaption>{html_text(name)}</figcaption></figure>"
        for name, alt in zip(lineup.names, lineup.alts, strict=True)
    )
    packed = _packed((("models", lineup.data),))
    return (
        f'<div id="lineup" data-state="loading">\n<div class="gallery even across-{lineup.across}">\n'
        f'{stages}\n</div>\n<div class="buttons" role="group" aria-label="view and parts">{_buttons()}</div>\n'
        '<p class="says">Drag one and all turn; pinch, or click one and use the wheel, to come closer; the arrow keys '
        "and + and - do the same.</p>\n"
        "<noscript><p>The models need scripts; the pictures show the same.</p></noscript>\n"
        f"</div>\n{packed}"
    )


def _buttons() -> str:
    views = "".join(f'<button type="button" data-view="{angles}">{name}</button>' for name, angles in _VIEWS)
    toggles = "".join(
        f'<button type="button" data-group="{name.lower()}" aria-pressed="true">{name}</button>'
        for name in ("Hardware", "Lid")
    )
    return f"{views}<span>Show</span>{toggles}"


def _packed(models: tuple[tuple[str, bytes], ...]) -> str:
    return "\n".join(
        f'<script type="application/octet-stream" class="model" data-name="{html_text(name)}">'
        f"{base64.b64encode(gzip.compress(data, 9, mtime=0)).decode()}</script>"
        for name, data in models
    )


def _inline(data: bytes, media: str) -> str:
    return f"data:{media};base64,{base64.b64encode(data).decode()}"
