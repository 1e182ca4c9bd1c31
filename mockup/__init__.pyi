"""The types of what `mockup` offers; written by ``python tests/python_stub.py``."""

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from mockup import as_built as as_built
from mockup import calibrate as calibrate
from mockup import manual as manual
from mockup.api import build as build
from mockup.api import check as check
from mockup.api import demo as demo
from mockup.api import load as load
from mockup.api import loads as loads
from mockup.api import marked as marked
from mockup.api import new as new
from mockup.api import output as output
from mockup.api import parts as parts
from mockup.api import save as save
from mockup.api import schema as schema
from mockup.api import sentences as sentences
from mockup.api import variants as variants
from mockup.archive import pack as pack
from mockup.archive import unpack as unpack
from mockup.comparison.api import beside as beside
from mockup.comparison.files import Comparison as Comparison
from mockup.comparison.page_origin import PageOrigin as PageOrigin
from mockup.comparison.page_origin import which as which
from mockup.comparison.sweep.files import Sweep as Sweep
from mockup.comparison.sweep.options import By
from mockup.layout.edit.apply import apply as apply
from mockup.layout_mending import mend as mend
from mockup.layout_mending import write_mended as write_mended
from mockup.layout_proposals import propose as propose
from mockup.model.design import Design as Design
from mockup.model.edit import Address as Address
from mockup.model.edit import AdoptVariant as AdoptVariant
from mockup.model.edit import DuplicateTable as DuplicateTable
from mockup.model.edit import InsertTable as InsertTable
from mockup.model.edit import MakeVariant as MakeVariant
from mockup.model.edit import Move as Move
from mockup.model.edit import PutLength as PutLength
from mockup.model.edit import PutValue as PutValue
from mockup.model.edit import RemoveTable as RemoveTable
from mockup.model.edit import RemoveValue as RemoveValue
from mockup.model.edit import RemoveVariant as RemoveVariant
from mockup.model.edit import RenameTable as RenameTable
from mockup.model.edit import RenameVariant as RenameVariant
from mockup.model.edit import ReorderTable as ReorderTable
from mockup.model.errors import EngineError as EngineError
from mockup.model.errors import Fault as Fault
from mockup.model.errors import InputError as InputError
from mockup.model.errors import MockupError as MockupError
from mockup.model.errors import OutputError as OutputError
from mockup.model.finding import Finding as Finding
from mockup.model.picture import Picture as Picture
from mockup.model.scene import Look, Quality, Stage
from mockup.model.scene import Scene as Scene
from mockup.model.units import Unit
from mockup.options import Progress
from mockup.options import Result as Result
from mockup.outputs.pages.press import WhiteAs
from mockup.outputs.pages.press_files import Cutter
from mockup.picture.options import PictureRequest as PictureRequest
from mockup.picture.shots import Take

__version__: str
_HOMES: dict[str, tuple[str, ...]]

def compare(
    layouts: Mapping[str, Design] | Sequence[Design | str | Path],
    *,
    printer: str | None = ...,
    as_built: bool = ...,
    view: Sequence[str] = ...,
    size: tuple[int, int] | None = ...,
    look: Look = ...,
    stage: Stage = ...,
    quality: Quality = ...,
    light: str = ...,
    room: str = ...,
    background: str = ...,
    engine: str | None = ...,
    seconds: float | None = ...,
    marks: bool = ...,
    page: str = ...,
    turntable: str | None = ...,
    frames: int = ...,
    turn_seconds: float = ...,
    output: Sequence[str] = ...,
    take: Take = ...,
    progress: Progress = ...,
) -> Comparison:
    """Return 2 to 12 pedals side by side; the first is what the others are compared with."""

def sweep(
    layout: str | Path | Sequence[str],
    *,
    printer: str | None = ...,
    as_built: bool = ...,
    view: Sequence[str] = ...,
    size: tuple[int, int] | None = ...,
    look: Look = ...,
    stage: Stage = ...,
    quality: Quality = ...,
    light: str = ...,
    room: str = ...,
    background: str = ...,
    engine: str | None = ...,
    seconds: float | None = ...,
    paint: str | None = ...,
    sheen: str | None = ...,
    knob: str | None = ...,
    film: str | None = ...,
    set_: Sequence[str] = ...,
    sort: By = ...,
    keep: int | None = ...,
    page: str = ...,
    output: Sequence[str] = ...,
    progress: Progress = ...,
) -> Sweep:
    """Return one layout pictured with every combination of the values listed, measured and ranked, the best first."""

def wander(
    layout: str | Path | Sequence[str],
    wander: str,
    *,
    printer: str | None = ...,
    as_built: bool = ...,
    view: Sequence[str] = ...,
    size: tuple[int, int] | None = ...,
    look: Look = ...,
    stage: Stage = ...,
    quality: Quality = ...,
    light: str = ...,
    room: str = ...,
    background: str = ...,
    engine: str | None = ...,
    seconds: float | None = ...,
    marks: bool = ...,
    page: str = ...,
    turntable: str | None = ...,
    frames: int = ...,
    turn_seconds: float = ...,
    output: Sequence[str] = ...,
    seed: int = ...,
    samples: int = ...,
    progress: Progress = ...,
) -> Result:
    """Return one layout as drawn beside how hands may drill it, and what that costs."""

def doubt(
    layout: Design | str | Path | None = ...,
    *,
    variant: str | None = ...,
    printer: str | None = ...,
    as_built: bool = ...,
    output: str | None = ...,
    progress: Progress = ...,
) -> Result:
    """Show how far each main colour of the art may come out from what is predicted, and why: a table with swatches."""

def drill(
    layout: Design | str | Path | None = ...,
    *,
    variant: str | None = ...,
    printer: str | None = ...,
    as_built: bool = ...,
    page: str = ...,
    units: Unit | None = ...,
    copies: int = ...,
    open_stops: int = ...,
    output: str | None = ...,
    progress: Progress = ...,
) -> Result:
    """Draw the plan for the drill press: numbered holes, and the drills in order to tick off."""

def guide(
    layout: Design | str | Path | None = ...,
    *,
    variant: str | None = ...,
    printer: str | None = ...,
    as_built: bool = ...,
    face: str = ...,
    art: str | None = ...,
    lines: str = ...,
    output: str | None = ...,
    progress: Progress = ...,
) -> Result:
    """Make a guide to lay over the art: edges, holes, nuts, knobs and labels, pixel for pixel."""

def jig(
    layout: Design | str | Path | None = ...,
    *,
    variant: str | None = ...,
    printer: str | None = ...,
    as_built: bool = ...,
    sides: bool = ...,
    fit: float = ...,
    wall: float = ...,
    plate: float = ...,
    skirt: float = ...,
    guide: float = ...,
    bush: float = ...,
    bush_height: float = ...,
    copies: int = ...,
    open_stops: int = ...,
    output: str | None = ...,
    progress: Progress = ...,
) -> Result:
    """Make a drill jig to print in 3D: a shell over the box with a guide at every hole."""

def log(
    layout: Design | str | Path | None = ...,
    *,
    variant: str | None = ...,
    printer: str | None = ...,
    as_built: bool = ...,
    size: tuple[int, int] = ...,
    stage: Stage = ...,
    quality: Quality = ...,
    light: str = ...,
    room: str = ...,
    background: str = ...,
    engine: str | None = ...,
    frames: int = ...,
    turn_size: tuple[int, int] = ...,
    copies: int = ...,
    for_others: bool = ...,
    output: str | None = ...,
    others: Sequence[Design] = ...,
    progress: Progress = ...,
) -> Result:
    """Write a build log: one page with pictures, model, drill table, parts and steps."""

def measure(
    layout: Design | str | Path | None = ...,
    *,
    variant: str | None = ...,
    printer: str | None = ...,
    as_built: bool = ...,
    face: str = ...,
    page: str = ...,
    output: str | None = ...,
    progress: Progress = ...,
) -> Result:
    """Draw the frame of marks that is laid on a drilled face, so that a photograph tells where its holes are."""

def model(
    layout: Design | str | Path | None = ...,
    *,
    variant: str | None = ...,
    printer: str | None = ...,
    as_built: bool = ...,
    texture: int = ...,
    output: str | None = ...,
    progress: Progress = ...,
) -> Result:
    """Write the finished pedal as a 3D model file (GLB: metres, y up, art inside)."""

def share(
    layout: Design | str | Path | None = ...,
    *,
    variant: str | None = ...,
    printer: str | None = ...,
    as_built: bool = ...,
    size: tuple[int, int] = ...,
    quality: Quality = ...,
    light: str = ...,
    room: str = ...,
    background: str = ...,
    engine: str | None = ...,
    seconds: float | None = ...,
    detail: str | None = ...,
    frames: int = ...,
    turn_size: tuple[int, int] = ...,
    turn_kind: str = ...,
    turn_mb: float = ...,
    output: str | None = ...,
    others: Sequence[Design] = ...,
    progress: Progress = ...,
) -> Result:
    """Make what you post: pictures, a light turn, an overview, a log for others, and a page with their alt text."""

def sheet(
    layout: Design | str | Path | None = ...,
    *,
    variant: str | None = ...,
    printer: str | None = ...,
    as_built: bool = ...,
    copies: int = ...,
    with_: Sequence[Design | str | Path] = ...,
    series: Sequence[Design] = ...,
    page: str = ...,
    dpi: float | None = ...,
    gap: float = ...,
    trim: float = ...,
    centres: bool = ...,
    mirror: bool = ...,
    white: WhiteAs | None = ...,
    cutter: Cutter | None = ...,
    match: bool = ...,
    test_piece: bool = ...,
    icc: str | Path | tuple[str, bytes] | None = ...,
    date: str | None = ...,
    rule: bool = ...,
    open_stops: int = ...,
    output: str | None = ...,
    progress: Progress = ...,
) -> Result:
    """Make a print sheet of decals at true size: nested, with cut marks, as PDF or PNG."""

def still(
    layout: Design | str | Path | None = ...,
    *,
    variant: str | None = ...,
    printer: str | None = ...,
    as_built: bool = ...,
    view: Sequence[str] = ...,
    size: tuple[int, int] = ...,
    look: Look = ...,
    stage: Stage = ...,
    quality: Quality = ...,
    light: str = ...,
    room: str = ...,
    background: str = ...,
    engine: str | None = ...,
    seconds: float | None = ...,
    doubt: bool = ...,
    detail: str | None = ...,
    chip: bool = ...,
    output: str | None = ...,
    progress: Progress = ...,
) -> Result:
    """Make still pictures of the finished pedal."""

def template(
    layout: Design | str | Path | None = ...,
    *,
    variant: str | None = ...,
    printer: str | None = ...,
    as_built: bool = ...,
    page: str = ...,
    faces: str = ...,
    units: Unit | None = ...,
    open_stops: int = ...,
    output: str | None = ...,
    progress: Progress = ...,
) -> Result:
    """Draw the drill template at true size: PDF to print, SVG or DXF to cut."""

def turntable(
    layout: Design | str | Path | None = ...,
    *,
    variant: str | None = ...,
    printer: str | None = ...,
    as_built: bool = ...,
    view: Sequence[str] = ...,
    size: tuple[int, int] = ...,
    stage: Stage = ...,
    quality: Quality = ...,
    light: str = ...,
    room: str = ...,
    background: str = ...,
    engine: str | None = ...,
    seconds: float | None = ...,
    frames: int = ...,
    turn_seconds: float = ...,
    keep_frames: bool = ...,
    output: str | None = ...,
    progress: Progress = ...,
) -> Result:
    """Turn the finished pedal once round: frames, and an animated file that loops."""

def __getattr__(name: str) -> Callable[..., Result]: ...  # an output that is newer than this file
