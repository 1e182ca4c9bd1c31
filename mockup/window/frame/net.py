"""The net: the box unfolded as the drill template shows it, its lid beside; a click on a face looks at it."""

from __future__ import annotations

from dataclasses import dataclass

from imgui_bundle import ImVec2, ImVec4, imgui

from mockup.drawing.unfold import Panel, unfolded
from mockup.model.design import Design
from mockup.model.enclosure import DECAL_FACES, FACE_WORDS, FaceName, faces
from mockup.scene.views import STRAIGHT_AT
from mockup.window.actions.table import BY_NAME, act
from mockup.window.desk import Desk
from mockup.window.shell import theme
from mockup.window.shell.cards import Card, Cards
from mockup.window.widgets.tile import tile

_INSET = 16.0  # units round the drawing
_GAP_PX = 1.5  # between faces, units
_DOT_PX = 2.2  # radius of a hole, units
_FADED = 0.3  # while something is carried near it
_NEAR_PX = 24.0  # units: how near that is


@dataclass(frozen=True, kw_only=True)
class NetFace:
    """A face in the net: its rectangle in the window, and where its parts stand, in pixels."""

    name: FaceName
    rect: tuple[float, float, float, float]
    dots: tuple[tuple[float, float], ...]


def net_faces(design: Design, card: Card, scale: float) -> tuple[NetFace, ...]:
    """Return the faces of a box laid out in a card, true in proportion, as in the drill template, the lid beside."""
    panels = unfolded(design.enclosure, faces(design.enclosure), DECAL_FACES)
    corners = {name: panel.corners() for name, panel in panels.items()}
    xs = [x for each in corners.values() for x, _ in each]
    ys = [y for each in corners.values() for _, y in each]
    wide, tall = max(xs) - min(xs), max(ys) - min(ys)
    inset = _INSET * scale
    px = min((card.width - 2 * inset) / wide, (card.height - 2 * inset) / tall)
    left = card.x + (card.width - wide * px) / 2 - min(xs) * px
    top = card.y + (card.height - tall * px) / 2 - min(ys) * px
    gap = _GAP_PX * scale / 2

    def face(name: FaceName, panel: Panel) -> NetFace:
        here_x, here_y = [x for x, _ in corners[name]], [y for _, y in corners[name]]
        rect = (
            left + min(here_x) * px + gap, top + min(here_y) * px + gap,
            left + max(here_x) * px - gap, top + max(here_y) * px - gap,
        )  # fmt: skip
        there = [panel.at(part.u_mm, part.v_mm) for part in design.parts if part.face == name and part.kind.cutouts]
        return NetFace(name=name, rect=rect, dots=tuple((left + x * px, top + y * px) for x, y in there))

    return tuple(face(name, panel) for name, panel in panels.items())


def face_at(found: tuple[NetFace, ...], x: float, y: float) -> FaceName | None:
    """Return the face of a net at a place of the window."""
    for each in found:
        low_x, low_y, high_x, high_y = each.rect
        if low_x <= x <= high_x and low_y <= y <= high_y:
            return each.name
    return None


def draw(desk: Desk, cards: Cards) -> None:
    """Draw the net over the picture's lower left corner."""
    widgets, scale, design = desk.widgets, desk.widgets.scale, desk.work.design
    if design is None:
        return
    alpha = _alpha(desk, cards.net, scale)
    imgui.push_style_color(imgui.Col_.window_bg, ImVec4(*theme.GLASS_GROUND, theme.GLASS_ALPHA * alpha))
    found = net_faces(design, cards.net, scale)
    with widgets.card("net", cards.net, "above"):
        for each in found:
            _face(desk, each, alpha)
    if desk.view.is_carrying:
        mouse = imgui.get_mouse_pos()
        desk.tools.carry.over_net(face_at(found, mouse.x, mouse.y))
    imgui.pop_style_color()


def _face(desk: Desk, face: NetFace, alpha: float) -> None:
    widgets, scale = desk.widgets, desk.widgets.scale
    low, high = ImVec2(*face.rect[:2]), ImVec2(*face.rect[2:])
    action = BY_NAME[f"view-{STRAIGHT_AT[face.name]}"]
    imgui.set_cursor_screen_pos(low)
    tip = FACE_WORDS[face.name].capitalize()
    drawn = tile(widgets, f"net.{face.name}", high.x - low.x, high.y - low.y, tip=tip, key=action.key)
    if drawn.is_pushed:
        act(desk, action)
    canvas, is_seen = drawn.canvas, desk.view.state.view == STRAIGHT_AT[face.name]
    round_px = 3 * scale
    if is_seen:
        canvas.add_rect_filled(low, high, theme.packed(theme.GLASS.chalk, alpha), round_px)
    elif drawn.is_hovered:
        canvas.add_rect_filled(low, high, theme.packed(theme.GLASS.chosen, alpha), round_px)
    canvas.add_rect(low, high, theme.packed(theme.GLASS.second, alpha), round_px, max(1.0, scale))
    dot = theme.GLASS.on_chalk if is_seen else theme.GLASS.chalk
    for x, y in face.dots:
        canvas.add_circle_filled(ImVec2(x, y), max(1.5, _DOT_PX * scale), theme.packed(dot, alpha), 12)


def _alpha(desk: Desk, net: Card, scale: float) -> float:
    """Return how much of the net is seen: it fades where a part is carried near it."""
    if desk.view.carried is None:
        return 1.0
    mouse, room = imgui.get_mouse_pos(), _NEAR_PX * scale
    is_near = net.x - room < mouse.x < net.right + room and net.y - room < mouse.y < net.bottom + room
    return _FADED if is_near else 1.0
