"""The real pages of an output, shown before it is saved: the very file, made beside the window, as pixels."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from mockup.model.errors import MockupError
from mockup.model.units import MM_PER_INCH
from mockup.window.saves.save_worker import SaveJob, made
from mockup.window.work.newest_job import NewestJobThread
from mockup.worker import Worker, WorkerGoneError

DPI = 130.0  # of a shown page, sharp on a usual screen where a page fills it: our choice
MOST_PAGES = 12  # that are shown: our choice
_REST_S = 0.25  # options are settled for so long before pages are made: by eye
_MOST_PX = 2200  # a side of a shown picture: our choice


@dataclass(frozen=True, kw_only=True, eq=False)
class PageImage:
    """A page as pixels (h, w, 3), and its size on paper."""

    pixels: NDArray[np.uint8]
    width_mm: float
    height_mm: float


@dataclass(frozen=True, kw_only=True, eq=False)
class PreviewResult:
    """The pages of a job, or in one line why there are none."""

    job: SaveJob
    pages: tuple[PageImage, ...] = ()
    fault: str = ""


class PagePreview:
    """Makes pages on a thread of its own; the newest job wins. `deliver` is called on that thread."""

    def __init__(self, deliver: Callable[[PreviewResult], None]) -> None:
        self._deliver = deliver
        self._worker = Worker(is_behind=True)
        self._jobs: NewestJobThread[SaveJob] = NewestJobThread(self._work, "pages")

    def request(self, job: SaveJob) -> None:
        """Ask for the pages of a job in place of any that is not begun."""
        self._jobs.request(job)

    def close(self) -> None:
        """End the thread and its process."""
        self._worker.close()
        self._jobs.close()

    def _work(self, job: SaveJob) -> None:
        if self._jobs.wait(_REST_S):
            return
        try:
            pages = self._worker.ask(pages_of, job)
            self._deliver(PreviewResult(job=job, pages=tuple(pages)))
        except MockupError as error:
            self._deliver(PreviewResult(job=job, fault=str(error).splitlines()[0]))
        except WorkerGoneError:
            self._deliver(PreviewResult(job=job, fault="the page cannot be shown"))


def pages_of(job: SaveJob) -> list[PageImage]:
    """Return the pages of the file that a job makes; none where it is neither PDF nor picture. Runs aside."""
    name, data = next(iter(made(job).items()))
    match name.suffix.lower():
        case ".pdf":
            return _printed(data)
        case ".png" | ".jpg" | ".jpeg":
            return [_picture(data)]
    return []


def _printed(data: bytes) -> list[PageImage]:
    import pypdfium2

    document = pypdfium2.PdfDocument(data)
    found = []
    for index in range(min(len(document), MOST_PAGES)):
        page = document[index]
        width, height = (side / 72.0 * MM_PER_INCH for side in page.get_size())  # points: ISO 32000-1 8.3.2.3
        dpi = min(DPI, _MOST_PX * MM_PER_INCH / max(width, height))
        pixels = np.asarray(page.render(scale=dpi / 72.0).to_pil().convert("RGB"))
        found.append(PageImage(pixels=pixels, width_mm=width, height_mm=height))
    return found


def _picture(data: bytes) -> PageImage:
    with Image.open(io.BytesIO(data)) as picture:
        dpi = picture.info.get("dpi", (DPI, DPI))[0] or DPI
        width, height = (side / dpi * MM_PER_INCH for side in picture.size)
        flat = Image.new("RGB", picture.size, "white")
        flat.paste(picture, mask=picture.getchannel("A") if "A" in picture.getbands() else None)
        flat.thumbnail((_MOST_PX, _MOST_PX))
        return PageImage(pixels=np.asarray(flat), width_mm=width, height_mm=height)
