"""How the film of a picture is cut, and which of the picture's layers are printed."""

from __future__ import annotations

from mockup.decal.pictures.layers import is_among
from mockup.layout.edit import decals
from mockup.layout.schema import MOST_CUT_MM
from mockup.model.finish import Decal
from mockup.window import art_flow
from mockup.window.desk import Desk
from mockup.window.pointer.face_things import FaceThing
from mockup.window.stations.inputs.number_row import number_row

_SHAPES = (("rectangle", "The picture"), ("ink", "The ink"), ("border", "The border"))
_TIPS = (
    "A rectangle round the whole picture", "Close round what is drawn, in one piece or several",
    "Along the largest outline that is drawn; what lies beyond it is cut away",
)  # fmt: skip
_MOST_LAYERS = 16  # rows: our choice


def draw_cut(desk: Desk, thing: FaceThing, decal: Decal) -> None:
    """Lay out what the film is cut round, how far it reaches beyond that, and how round it is."""
    widgets, changes, cut = desk.widgets, desk.tools.lying.changes, decal.cut
    widgets.title("Cut round", hint=desk.work.units)
    shape = cut.shape if cut is not None else "rectangle"
    chosen = widgets.choose("cut", _SHAPES, shape, tips=_TIPS)
    if chosen is not None and chosen != shape:
        art_flow.print_on(desk, (int(thing.way[1]),), chosen, "cut")
    widgets.space(4)
    is_rectangle = shape == "rectangle"
    corner = ("Corner radius", "0 leaves the corners sharp") if is_rectangle else (
        "Inner corner radius", "How round a corner is that runs inward, where film tears first")  # fmt: skip
    rows: tuple[tuple[decals.CutLength, str, str, float], ...] = (
        ("cut_allowance", "Film beyond it", "How much further the film reaches",
         cut.allowance_mm if cut is not None else 0.0),
        ("cut_radius", *corner, cut.radius_mm if cut is not None else 0.0),
    )  # fmt: skip
    for key, label, tip, now in rows:
        typed = number_row(
            desk, label, f"art.{key.replace('_', '-')}", now, desk.work.units, least=0.0, most=MOST_CUT_MM, tip=tip
        )
        if typed is not None:
            art_flow.change(desk, "change the cut", decals.cut_by(changes.address(thing.way), key, typed))
    if cut is None:
        widgets.note("While nothing is set here, the page of decals says how much clear film stays round it.")


def draw_layers(desk: Desk, thing: FaceThing, decal: Decal) -> None:
    """Lay out a row to tick for each layer or group of the picture; nothing where it has none."""
    widgets, changes = desk.widgets, desk.tools.lying.changes
    layers = decal.art.file.layers if decal.art.file is not None else ()
    if not layers:
        return
    hidden = tuple(map(str, changes.table(thing.way).get("hide", ())))
    widgets.title("Layers that print")
    for layer in layers[:_MOST_LAYERS]:
        is_printed = not is_among(layer, hidden)
        if widgets.check(layer, f"layer.{layer}", is_printed, tip="A layer that never prints stays in your file"):
            edits = decals.with_layer(changes.address(thing.way), hidden, layer, is_printed=not is_printed)
            art_flow.change(desk, f"leave out {layer}" if is_printed else f"print {layer}", edits)
    if len(layers) > _MOST_LAYERS:
        widgets.note(f"And {len(layers) - _MOST_LAYERS} more inside these.")
