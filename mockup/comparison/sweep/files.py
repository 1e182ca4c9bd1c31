"""A finished sweep as files: a contact sheet as PNG, PDF or a page for a browser, and all figures as JSON."""

from __future__ import annotations

import itertools
import json
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass
from pathlib import PurePath
from typing import Any

import numpy as np

from mockup import __version__
from mockup.checks.report.sentences import named
from mockup.comparison.sweep import job
from mockup.comparison.sweep.contact import ContactSheet, Pixels, on_paper, on_screen
from mockup.comparison.sweep.options import SweepOptions
from mockup.comparison.sweep.ranking import Candidate, answer, figure, said, tally
from mockup.comparison.sweep.run import Swept
from mockup.encode.document import Document, Gallery, Paragraph, Section, TextTable, Tone
from mockup.encode.html import html
from mockup.encode.jpeg import jpeg_photo
from mockup.encode.pdf import pdf
from mockup.encode.picture_file import picture_file
from mockup.encode.pixels import pixels
from mockup.lights import presets
from mockup.model.text import capitalized
from mockup.options import PICTURES, Result, file_stem
from mockup.outputs.pages.paper_sizes import page_size

PX_PER_MM = 4.0  # of a sheet in pixels, on which a millimetre is just a unit
_LEAST_TEXT_PX, _MOST_TEXT_PX, _TEXT_SHARE = 13.0, 25.0, 1 / 25  # of a picture's width; sizes of the face: our taste
_STRIP_SHARE = 1 / 50  # of a picture's width, between two views on a page: our taste
_TONES: dict[str, Tone] = {"all read": "plain", "in doubt": "warn", "not all": "stop", "no lettering": "note"}


@dataclass(frozen=True, kw_only=True)
class Sweep(Result):
    """A finished sweep: its files, what was found, and every candidate, the best first."""

    candidates: tuple[Candidate, ...]


def sheets(swept: Swept, title: str, what: str, options: SweepOptions) -> Sweep:
    """Return the files of a sweep, PNG where none is named; of the pictures only the best that are kept.

    Several PNG sheets are numbered. The facts hold every candidate, those left out of the pictures too.
    """
    shown = swept.candidates[: options.keep]
    said_all = answer(swept.candidates, what)

    def pictures(candidate: Candidate) -> tuple[Pixels, ...]:
        found = [job.picture(swept.store, name) for name in candidate.names.pictures if not candidate.failure]
        whole = tuple(each for each in found if each is not None)
        return whole if len(whole) == len(swept.sights) else ()

    contact = ContactSheet(
        title=title,
        what=what,
        answer=said_all,
        by=swept.by,
        ratios=tuple(sight.width_px / sight.height_px for sight in swept.sights),
        candidates=shown,
        shown=pictures,
        total=len(swept.candidates),
    )
    files: dict[str, bytes] = {}
    facts = described(swept, what, said_all)
    for name in options.output or (f"{file_stem(title)}-sweep.png",):
        suffix = PurePath(name).suffix.lower()
        if suffix == ".pdf":
            files[name] = pdf(on_paper(contact, page_size(options.page)), title=f"{title}: {what}")
        elif suffix == ".json":
            files[name] = json.dumps(facts, indent=2, ensure_ascii=False).encode()
        elif suffix in PICTURES:
            files |= dict(_screens(contact, name, swept))
        else:
            files[name] = html(_document(contact, swept), presets()["bench"])
    record = {"files": list(files), **facts}
    return Sweep(files=files, facts=record, notes=swept.notes, candidates=swept.candidates)


def described(swept: Swept, what: str, said_all: str) -> dict[str, Any]:
    """Return all that a sweep found, for programs: plain lists, numbers and texts, the best first."""
    return {
        "answer": said_all,
        "what": what,
        "sorted_by": swept.by,
        "views": [sight.view for sight in swept.sights],
        "drawn_now": swept.drawn,
        "candidates": [_facts(number, each) for number, each in enumerate(swept.candidates, 1)],
    }


def _facts(rank: int, candidate: Candidate) -> dict[str, Any]:
    found = candidate.measured.figures if candidate.measured is not None else None
    return {
        "rank": rank,
        "caption": candidate.caption,
        "given_as": candidate.place + 1,
        "set": {each.key: each.value for each in candidate.assignments},
        "verdict": candidate.verdict,
        "trouble": [{"label": named(subject, "mm"), "why": word} for subject, word in candidate.trouble],
        "failure": candidate.failure or None,
        "worst_contrast": found.worst_contrast if found else None,
        "inked_mm2": found.inked_mm2 if found else None,
        "figures": asdict(found) if found else None,
    }


def rows(candidates: Sequence[Candidate]) -> tuple[tuple[str, ...], list[tuple[str, ...]]]:
    """Return the head and the rows of the table of candidates, as text."""
    head = ("", "", "does every label read?", "worst contrast", "checks", "ink")
    body: list[tuple[str, ...]] = [
        (
            str(number),
            each.caption,
            said(each),
            figure(each, "contrast", detail="bare"),
            tally(each),
            figure(each, "ink", detail="bare"),
        )
        if each.measured is not None
        else (str(number), each.caption, f"not made: {each.failure}", "", "", "")
        for number, each in enumerate(candidates, 1)
    ]
    return head, body


def _screens(contact: ContactSheet, name: str, swept: Swept) -> Iterator[tuple[str, bytes]]:
    """Yield each sheet for a screen: one keeps the name, several are numbered."""
    place = PurePath(name)
    wide = swept.sights[0].width_px
    text = min(max(wide * _TEXT_SHARE, _LEAST_TEXT_PX), _MOST_TEXT_PX)
    pages = on_screen(contact, wide / PX_PER_MM, text / PX_PER_MM)
    first = next(pages)
    following = next(pages, None)
    facts = {"Software": f"mockup {__version__}", "Title": first.title, "Answer": contact.answer}
    if following is None:
        yield name, picture_file(name, pixels(first, PX_PER_MM), text=facts)
        return
    for number, page in enumerate(itertools.chain((first, following), pages), 1):
        own = str(place.with_name(f"{place.stem}-{number}{place.suffix}"))
        yield own, picture_file(own, pixels(page, PX_PER_MM), text=facts)


def _document(contact: ContactSheet, swept: Swept) -> Document:
    photos = []
    for candidate in contact.candidates:
        pictures = contact.shown(candidate)
        if pictures:
            alt = f"{contact.title}, {candidate.caption}"
            caption = f"{candidate.caption}: {figure(candidate, swept.by)}; {said(candidate)}"
            photos.append(jpeg_photo("", _stacked(pictures), alt=alt, caption=caption, quality=88))
    head, body = rows(swept.candidates)
    table = TextTable(
        head=("place", contact.what, *head[2:]),
        rows=tuple(body),
        tones=tuple(_TONES[each.verdict] for each in swept.candidates),
    )
    about = f"{capitalized(contact.about)}. Same camera, light and scale."
    return Document(
        title=contact.title,
        under=about,
        sections=(
            Section(heading="The answer", blocks=(Paragraph(text=contact.answer),)),
            Section(heading="Pictures", blocks=(Gallery(photos=tuple(photos), across=_across(len(photos))),)),
            Section(heading="Figures", blocks=(table,)),
        ),
        foot=f"Made with mockup {__version__}. A prediction: try paint, film and ink on a scrap before you decide.",
        sort="sweep",
    )


def _stacked(pictures: Sequence[Pixels]) -> Pixels:
    """Return pictures of one width below each other as one, a strip of white between two."""
    strip = np.full((round(_STRIP_SHARE * pictures[0].shape[1]), *pictures[0].shape[1:]), 255, np.uint8)
    pieces = [piece for picture in pictures for piece in (strip, picture)]
    return np.concatenate(pieces[1:])


def _across(count: int) -> int:
    return 2 if count <= 4 else 3 if count <= 9 else 4
