"""The real window: pyglet's events go to the panel or to the picture, and nothing is drawn without need."""

from __future__ import annotations

import importlib
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from imgui_bundle import imgui

from mockup.engines.gl.context import adopt, leave_to_window
from mockup.model.units import MM_PER_INCH
from mockup.window.shell import theme
from mockup.window.shell.event_handler import EventHandler
from mockup.window.shell.faces import load_faces
from mockup.window.shell.key_names import held, is_modifier, named, unshifted
from mockup.window.shell.key_owner import QUESTION_REST_S, owner
from mockup.window.shell.system_window import forget_held, opened, usual_scale

_LATE_S = 0.6  # tooltips come up when the pointer rests: one more frame then
_FRAMES_A_KEY = 5  # what a key asks for, such as a card whose field gets the caret, is there four frames later
_FRAMES_A_CLICK = 3  # place, press or release, and what follows: the panel library takes one a frame
_MOST_FRAMES = 60  # that wait to be drawn: longer than anybody types ahead
_ONCE = ("enter", "tab", "space", "escape")  # held down they act once: what opens by Enter is not closed by the same
_GUESSED_DPI = (72.0, 96.0)  # what systems say when they do not know: common practice


class NativeWindow:
    """One window with its GL context, which becomes this process's own.

    `stirred_at` is when the user last did something, a time of `time.perf_counter`.
    """

    def __init__(self, title: str, size: tuple[int, int], scale: float | None) -> None:
        leave_to_window()
        self.handler: EventHandler | None = None
        self._pyglet, self.window = opened(title, size)
        adopt(self.window.switch_to)
        self.is_scale_asked = scale is not None
        self.scale = self.usual_scale = scale or usual_scale(self.window)
        imgui.create_context()
        self.io = imgui.get_io()
        self.io.set_ini_filename("")
        self.io.config_input_text_cursor_blink = False
        self.io.config_flags |= imgui.ConfigFlags_.nav_enable_keyboard
        self.faces = load_faces()
        self.palette = theme.DARK
        theme.dress(self.scale, self.palette)
        backends: Any = importlib.import_module("imgui_bundle.python_backends.pyglet_backend")
        self._backend = backends.create_renderer(self.window, attach_callbacks=False)
        self._backend._window = self.window
        self._frames, self._late = 3, 0.0
        self._owner = ""
        self._unseen = 0
        self._was_asking, self._asked_since = False, 0.0
        self.stirred_at = 0.0
        self._last = time.perf_counter()
        self.frames_drawn = self.failures = self.releases = 0
        self._listen()

    @property
    def size(self) -> tuple[int, int]:
        """Width and height of the picture and the panel in pixels."""
        width, height = self.window.get_framebuffer_size()
        return int(width), int(height)

    @property
    def screen_name(self) -> str:
        """Tell this screen from others: its size and place."""
        screen = self.window.screen
        return f"{screen.width}x{screen.height} at {screen.x},{screen.y}"

    @property
    def px_per_mm(self) -> float | None:
        """Pixels per millimetre as the system knows them, None where it only guesses."""
        dpi = float(getattr(self.window.screen, "get_dpi", lambda: 0.0)() or 0.0)
        return dpi / MM_PER_INCH if dpi > 0 and dpi not in _GUESSED_DPI else None

    def run(self, handler: EventHandler) -> None:
        """Show the window until it is closed."""
        self.handler = handler
        self.window.set_visible(True)
        host = self

        class Loop(self._pyglet.app.EventLoop):  # type: ignore[misc,name-defined]
            """Works while there is something to do, and sleeps otherwise."""

            def idle(self) -> float | None:
                return host._idle(super().idle())

        loop = self._pyglet.app.event_loop = Loop()
        loop.run(None)

    def close(self) -> None:
        """Leave the loop and close the window."""
        self._pyglet.app.event_loop.exit()

    def shut(self) -> None:
        """Free the window at the very end."""
        self._backend.shutdown()
        imgui.destroy_context()
        self.window.close()

    def wake(self) -> None:
        """Have the loop look for work at once; may be called from any thread."""
        self._pyglet.app.platform_event_loop.notify()

    def touch(self, frames: int = 2) -> None:
        """Draw the interface again; two frames, because it lays itself out one late."""
        self._frames = max(self._frames, frames)

    def settle(self) -> None:
        """Have what was just asked for drawn before the next key or press is looked at: the caret may be on its way."""
        self._unseen = max(self._unseen, _FRAMES_A_KEY)
        self.touch(_FRAMES_A_KEY)

    def wear(self, palette: theme.Palette, scale: float | None) -> None:
        """Take on colours and a size of text, None for what was asked for at the start or what the screen asks for."""
        self.palette = palette
        self.scale = min(max(scale or self.usual_scale, theme.SMALLEST), theme.LARGEST)
        theme.dress(self.scale, self.palette)
        self.touch(3)

    def retitle(self, title: str) -> None:
        """Put a title over the window."""
        self.window.set_caption(title)

    def _idle(self, asked: float | None) -> float | None:
        handler = self.handler
        assert handler is not None
        until = self._guarded(handler.work)()
        now = time.perf_counter()
        if self._late and now >= self._late:
            self._late = 0.0
            self.touch(2)
        if self._frames:
            self._frames -= 1
            self._draw(now)
            if self._frames:
                return 0.0
        waits = [each for each in (until, asked, self._late - now if self._late else None) if each is not None]
        return max(min(waits), 0.0) if waits else None

    def _draw(self, now: float) -> None:
        handler = self.handler
        assert handler is not None
        self.window.switch_to()
        self._begin_frame(now)
        handler.interface()
        imgui.render()
        handler.picture()
        self._guarded(self._backend.render)(imgui.get_draw_data())  # one frame lost is no window lost
        self.window.flip()
        self.frames_drawn += 1
        is_asking = handler.is_asking()
        if is_asking and not self._was_asking:
            self._asked_since = time.perf_counter()
            self._late = self._asked_since + QUESTION_REST_S + 0.01
        self._was_asking = is_asking

    def _begin_frame(self, now: float) -> None:
        self.io.delta_time = min(max(now - self._last, 1e-4), 0.1)
        self._last = now
        self._unseen = max(self._unseen - 1, 0)
        imgui.new_frame()

    def _listen(self) -> None:
        for name in dir(self):
            if name.startswith("_on_"):
                self.window.set_handler(name[1:], self._guarded(getattr(self, name)))

    def _guarded(self, answer: Callable[..., Any]) -> Callable[..., Any]:
        """Catch an internal error, drop the action and keep the window open; it is reported, and counted."""

        def guarded(*told: Any) -> Any:
            try:
                return answer(*told)
            except Exception as error:
                self.failures += 1
                if self.handler is not None:
                    self.handler.failed(error)
                return True

        return guarded

    def _stir(self, events: int = 0) -> None:
        """Draw what an event changes: the panel library takes some events one a frame, and none may be left waiting."""
        self._frames = min(max(self._frames + events, 2), _MOST_FRAMES)
        self.stirred_at = time.perf_counter()
        self._late = self.stirred_at + _LATE_S

    def _at(self, x: float, y: float) -> tuple[float, float]:
        """Return an event's place in framebuffer pixels from the top left corner."""
        width, height = self.window.get_size()
        px_w, px_h = self.size
        return x * px_w / max(width, 1), (height - y) * px_h / max(height, 1)

    def _point(self, x: float, y: float) -> tuple[float, float]:
        at = self._at(x, y)
        self.io.add_mouse_pos_event(*at)
        self._stir()
        return at

    def _on_mouse_motion(self, x: float, y: float, _dx: float, _dy: float) -> None:
        at = self._point(x, y)
        if self.handler and not self.handler.is_panel(*at):
            self.handler.pointer.hover(*at)

    def _on_mouse_leave(self, _x: float, _y: float) -> None:
        self.io.add_mouse_pos_event(-1e9, -1e9)
        self._stir()

    def _on_mouse_press(self, x: float, y: float, button: int, modifiers: int) -> None:
        self._catch_up()  # the caret may be on its way somewhere, which would take the press with it
        at = self._point(x, y)
        name = _button(self._pyglet, button)
        if self._is_too_early():
            return
        if self.handler and not self.handler.is_panel(*at):
            self._owner = name
            imgui.set_window_focus(None)
            self.handler.pointer.press(*at, name, held(self._pyglet, modifiers))
        else:
            self._press(name, is_down=True)

    def _on_mouse_drag(self, x: float, y: float, dx: float, dy: float, _buttons: int, modifiers: int) -> None:
        at = self._point(x, y)
        if self._owner and self.handler:
            ratio = self.size[0] / max(self.window.get_size()[0], 1)
            self.handler.pointer.drag(*at, dx * ratio, -dy * ratio, held(self._pyglet, modifiers))

    def _on_mouse_release(self, x: float, y: float, button: int, _modifiers: int) -> None:
        at, name = self._point(x, y), _button(self._pyglet, button)
        if not self._owner:
            self._unseen = max(self._unseen, 1)
            self._catch_up()  # a slider that sees the button up does not look where it was dragged last
        if not self._owner:  # nor did a card hand the press over meanwhile
            self._press(name, is_down=False)
        elif self.handler and name == self._owner:
            self._owner = ""
            self.handler.pointer.release(*at)
        self.releases += 1

    def hand_over(self) -> None:
        """Let the rest of a press that began on a card go to the picture."""
        self._owner = "left"
        self.io.add_mouse_button_event(0, False)
        self._stir(2)

    def _press(self, button: str, *, is_down: bool) -> None:
        """Tell the panel of a button."""
        self.io.add_mouse_button_event({"left": 0, "right": 1, "middle": 2}[button], is_down)
        self._unseen = _FRAMES_A_CLICK
        self._stir(2)

    def _on_mouse_scroll(self, x: float, y: float, scroll_x: float, scroll_y: float) -> None:
        at = self._point(x, y)
        if self.handler and not self.handler.is_panel(*at):
            self.handler.pointer.scroll(*at, scroll_y)
        else:
            self.io.add_mouse_wheel_event(scroll_x, scroll_y)

    def _catch_up(self) -> None:
        """Let the cards see what came before: whose an event is depends on all that was done before it.

        They are laid out, which is quick, but not shown.
        """
        while self._unseen and self.handler is not None:
            self._begin_frame(time.perf_counter())
            self.handler.interface()
            imgui.end_frame()

    def _on_key_press(self, symbol: int, modifiers: int) -> bool:
        self._catch_up()
        self._stir(2)
        symbol = unshifted(self._pyglet, symbol)
        key = named(self._pyglet, symbol, modifiers)
        if is_modifier(self._pyglet, symbol):
            self._backend.on_key_press(symbol, modifiers)
        elif self.handler is not None:
            self._give(key, symbol, modifiers)
        return True  # pyglet's own answer to Escape is to close the window

    def _give(self, key: str, symbol: int, modifiers: int) -> None:
        """Give a key to whom it belongs."""
        assert self.handler is not None
        match owner(
            key, is_typing=bool(self.io.want_text_input), is_asked=self.handler.is_asking(),
            is_list_open=bool(imgui.is_popup_open("", imgui.PopupFlags_.any_popup)),
            is_in_cards=self.handler.is_panel_focused(), is_too_early=self._is_too_early(),
        ):  # fmt: skip
            case "text" | "cards":
                self._backend.on_key_press(symbol, modifiers)
                if key.removeprefix("shift+") in _ONCE:
                    self._backend.on_key_release(symbol, modifiers)
            case "window":
                self.handler.key(key)
            case _:
                return
        self._unseen = _FRAMES_A_KEY
        self._stir(_FRAMES_A_KEY)

    @property
    def is_answerable(self) -> bool:
        """True where nothing is asked, or it is seen for so long that keys count."""
        return not self._is_too_early()

    def _is_too_early(self) -> bool:
        """True while a question is asked that nobody can have seen yet: a press was meant for something else."""
        if self.handler is None or not self.handler.is_asking():
            return False
        return not self._was_asking or time.perf_counter() - self._asked_since < QUESTION_REST_S

    def _on_key_release(self, symbol: int, modifiers: int) -> None:
        if is_modifier(self._pyglet, symbol):
            self._catch_up()  # a key that went down with it held is not to be seen without it
        self.releases += 1
        forget_held(self.window)
        self._stir(1)
        self._backend.on_key_release(unshifted(self._pyglet, symbol), modifiers)

    def _on_text(self, text: str) -> None:
        self._catch_up()
        self._stir(2)
        if self.io.want_text_input:
            for letter in text:
                if letter.isprintable():
                    self.io.add_input_character(ord(letter))
            self._unseen = max(self._unseen, 1)

    def _on_resize(self, width: int, height: int) -> bool:
        self._backend.io.display_size = self.size
        self._backend.io.display_framebuffer_scale = (1.0, 1.0)
        self.touch(3)
        return True

    def _on_file_drop(self, x: float, y: float, paths: list[str]) -> None:
        at = self._point(x, y)
        if self.handler:
            self.handler.dropped(*at, tuple(Path(path) for path in paths))

    def _on_expose(self) -> None:
        self.touch(2)

    def _on_close(self) -> bool:
        self.touch(2)
        if self.handler is None or self.handler.closing():
            self.close()
        return True  # the loop closes the window, once nothing is left to ask


def _button(pyglet: Any, button: int) -> str:
    mouse = pyglet.window.mouse
    return {mouse.LEFT: "left", mouse.MIDDLE: "middle", mouse.RIGHT: "right"}.get(button, "left")
