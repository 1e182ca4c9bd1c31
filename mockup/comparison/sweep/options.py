"""What a sweep is asked to go through and to show."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from mockup.comparison.options import require_files, require_page
from mockup.options import PICTURES, bad_option, option, parse_size
from mockup.picture.options import PictureRequest, view_names

By = Literal["contrast", "findings", "given", "ink"]
BYS: tuple[By, ...] = get_args(By)
SUFFIXES = (*PICTURES, ".pdf", ".html", ".htm", ".json")


@dataclass(frozen=True, kw_only=True)
class SweepOptions(PictureRequest):
    """Lists of values for one layout, how the combinations are pictured and sorted, and where it goes.

    `size` None is one that suits their number. `processes` None uses as many cores as there are.
    """

    paint: str | None = option(
        None, "sweep: paints, such as red,#2a6f6b, or a .csv of name,colour,sheen", metavar="LIST"
    )
    sheen: str | None = option(None, "sweep: sheens, such as gloss,matte", metavar="LIST")
    knob: str | None = option(None, "sweep: knob styles, on every part with a knob", metavar="LIST")
    film: str | None = option(None, "sweep: decal films, clear,white", metavar="LIST")
    set_: tuple[str, ...] = option((), "sweep: any key, such as box.edge=1,2,3", metavar="KEY=LIST")
    sort: By = option("contrast", "sweep: the figure to sort by, best first", choices=BYS, noun="figure")
    keep: int | None = option(None, "sweep: picture only the best N", metavar="N")
    view: tuple[str, ...] = option(
        PictureRequest.view, "where the camera stands; repeat for several, one under the other", choices=view_names
    )
    size: tuple[int, int] | None = option(None, "width x height of each picture in pixels", parse=parse_size)
    variant: str | None = None
    page: str = option("a4", "paper of a PDF: a4, letter or width x height in mm")
    output: tuple[str, ...] = option(
        (), "file to write: .png, .jpg, .pdf, .html or .json; repeat for several", short="o"
    )
    processes: int | None = None

    def __post_init__(self) -> None:
        super().__post_init__()
        require_page(self.page)
        require_files(self.output, SUFFIXES)
        if self.keep is not None and self.keep < 1:
            raise bad_option("keep", f"{self.keep} is out of range", "give 1 or more")
