"""The page that holds a photograph of the finished pedal beside its picture, and what it teaches."""

from __future__ import annotations

from typing import Any

import numpy as np

from mockup import __version__
from mockup.colour import rgb
from mockup.colour.difference import ciede2000, encoded_to_lab
from mockup.comparison.beside.landmarks import Found
from mockup.comparison.beside.options import BesideOptions
from mockup.comparison.beside.photograph import LIT_WORDS, Beside, held_beside, lens_words, lessons
from mockup.encode.document import Block, Document, Gallery, Paragraph, Section, TextTable, Wipe
from mockup.encode.html import html
from mockup.encode.jpeg import jpeg_photo
from mockup.encode.markdown import markdown
from mockup.fingerprint import fingerprint
from mockup.model.design import Design
from mockup.model.finish import Artwork
from mockup.options import Progress, Result, silent

_MOST_DE = 20.0  # shown as white in the picture of differences: our choice


def make(
    design: Design,
    picture: Artwork,
    name: str,
    options: BesideOptions,
    progress: Progress = silent,
    near: Found | None = None,
) -> Result:
    """Return the page of a photograph, whose file is called `name`; `InputError` where no camera can be found.

    A camera `near` the one wanted is where to start from.
    """
    target = options.target(design.name)
    held = held_beside(design, picture, options, progress, near)
    shown = _document(design, name, options, held)
    if target.suffix.lower() == ".md":
        text, beside = markdown(shown, f"{target.stem}-files")
        files = {str(target): text} | {str(target.parent / path): data for path, data in beside.items()}
    else:
        files = {str(target): html(shown, options.lighting)}
    return Result(files=files, facts=_facts(target.name, held))


def _document(design: Design, name: str, options: BesideOptions, held: Beside) -> Document:
    photo, taken, found, listed, places = held.photo, held.taken, held.found, held.areas, held.places
    both = np.asarray((photo.astype(np.uint16) + taken) // 2, np.uint8)
    apart = ciede2000(encoded_to_lab(photo / 255.0), encoded_to_lab(taken / 255.0))
    map_ = np.repeat(np.clip(apart / _MOST_DE * 255.0, 0, 255).astype(np.uint8)[..., None], 3, axis=2)
    shots = [
        jpeg_photo(
            "photograph.jpg",
            photo,
            alt=f"Photograph of {design.name}",
            caption="The photograph" + (", its card made white" * bool(options.card)),
        ),
        jpeg_photo(
            "picture.jpg",
            taken,
            alt=f"Picture of {design.name} with the photograph's camera",
            caption="The picture, same camera",
        ),
        jpeg_photo("both.jpg", both, alt="Photograph and picture over one another", caption="Both, half and half"),
        jpeg_photo(
            "difference.jpg",
            map_,
            alt="How far the colours are apart",
            caption=f"Colour apart: black 0, white {_MOST_DE:.0f} or more (CIEDE2000)",
        ),
    ]
    blocks: list[Block] = [Paragraph(text=_camera_words(found)), Wipe(first=shots[0], second=shots[1])]
    sections = [
        Section(heading="One over the other", blocks=tuple(blocks)),
        Section(heading="Side by side", blocks=(Gallery(photos=tuple(shots)),)),
    ]
    if listed:
        rows = tuple(
            (each.name, rgb.to_hex(each.predicted), rgb.to_hex(each.seen), f"{each.difference:.1f}", each.words)
            for each in listed
        )
        table = TextTable(head=("Area", "Predicted", "Photographed", "Apart", "In words"), rows=rows, is_right=(3,))
        said = (
            f"Medians of each area, the photograph's light divided by the card's. {LIT_WORDS} Metal is left out: it "
            "shows the room."
        )
        sections.append(Section(heading="Colours", blocks=(Paragraph(text=said), table)))
    if places:
        spots = tuple(
            (each.name, f"{each.right_mm:+z.1f} mm", f"{each.down_mm:+z.1f} mm", f"{each.likeness:.2f}")
            for each in places
        )
        table = TextTable(head=("Part", "Right", "Down", "Likeness"), rows=spots, is_right=(1, 2, 3))
        said = "How far each part is seen off its place in the picture. Without marks this is rough: 1 mm either way."
        sections.append(Section(heading="Where the parts stand", blocks=(Paragraph(text=said), table)))
    taught = list(lessons(design, listed, places))
    if taught:
        sections.append(Section(heading="What it teaches", blocks=tuple(Paragraph(text=each.words) for each in taught)))
    foot = f"Made with mockup {__version__} from {design.source} and {name}."
    under = f"Photograph and picture. Design {fingerprint(design)}."
    return Document(title=design.name, under=under, sections=tuple(sections), foot=foot, sort="beside its picture")


def _camera_words(found: Found) -> str:
    far = np.linalg.norm(found.camera.eye)
    stands = f"it stands {far:.0f} mm away and takes in {found.camera.fov_deg:.0f}° from top to bottom."
    by = "the printed marks" if found.is_marked else f"{len(found.names)} places"
    return (
        f"The camera was found by {by}, which it sees {found.off_px:.1f} px off on average; {stands} "
        f"{lens_words(found)}"
    )


def _facts(target: str, held: Beside) -> dict[str, Any]:
    found, camera = held.found, held.found.camera
    return {
        "file": target,
        "camera": {
            "eye_mm": [round(each, 2) for each in camera.eye],
            "target_mm": [round(each, 2) for each in camera.target],
            "fov_deg": round(camera.fov_deg, 3),
            "off_px": round(found.off_px, 2),
        },
        "areas": [
            {
                "name": each.name,
                "predicted": rgb.to_hex(each.predicted),
                "photographed": rgb.to_hex(each.seen),
                "ciede2000": round(each.difference, 2),
            }
            for each in held.areas
        ],
        "parts": [
            {"name": each.name, "right_mm": round(each.right_mm, 2), "down_mm": round(each.down_mm, 2)}
            for each in held.places
        ],
    }
