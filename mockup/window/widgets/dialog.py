"""Questions over the window: unsaved changes, a file changed on both sides, after a crash, the screen's size."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from imgui_bundle import ImVec2, imgui

from mockup.model.units import MM_PER_INCH
from mockup.window.shell import screen_scale, theme
from mockup.window.shell.cards import QUESTION
from mockup.window.widgets.widgets import Widgets

_CARD_PX = 300.0  # where the outline starts: about a card on a usual screen
_DPI = (50.0, 320.0)  # a television's to a telephone's: our choice


@dataclass(frozen=True, kw_only=True)
class Answer:
    """One way to answer: its label and what it does."""

    label: str
    name: str
    does: Callable[[], None]


@dataclass(frozen=True, kw_only=True)
class Question:
    """A question with its answers; the first is the usual one, the last leaves everything as it is.

    `body` draws what is asked about under the lines, over a card that is `wide` units wide. Where it `is_typed` the
    caret is in the body from the start. `takes` is given the files that are dropped on it.
    """

    title: str
    lines: Sequence[str]
    answers: Sequence[Answer]
    body: Callable[[], None] | None = None
    wide: float = QUESTION
    is_typed: bool = False
    takes: Callable[[Sequence[Path]], None] | None = None


class Dialog:
    """At most one question at a time, in the middle of the window."""

    def __init__(self, widgets: Widgets) -> None:
        self._widgets = widgets
        self._question: Question | None = None
        self._is_new = False
        self.card_px: float | None = None
        self._keep_card: Callable[[float], None] | None = None

    @property
    def is_open(self) -> bool:
        """True while a question waits for its answer."""
        return self._question is not None or self.card_px is not None

    def ask(self, question: Question) -> None:
        """Put a question."""
        self._question, self._is_new = question, True

    def measure_screen(self, known: float | None, keep: Callable[[float], None]) -> None:
        """Have the user make an outline as large as a card; `keep` gets pixels per millimetre."""
        self.card_px = screen_scale.card_px(known)[0] if known else _CARD_PX * self._widgets.scale
        self._keep_card, self._is_new = keep, True

    def dropped(self, paths: Sequence[Path]) -> None:
        """Give files to the question that waits, if it takes any; it is answered with that."""
        if self._question is not None and self._question.takes is not None:
            takes, self._question = self._question.takes, None
            takes(paths)

    def dismiss(self) -> None:
        """Answer with the last answer, which leaves everything as it is."""
        if self.card_px is not None:
            self.card_px = None
        elif self._question is not None:
            self._take(self._question.answers[-1])

    def draw(self) -> None:
        """Show what is asked."""
        if self.card_px is not None:
            self._card(self.card_px)
        elif self._question is not None:
            self._show(self._question)

    @contextmanager
    def _asked(self, title: str, wide: float) -> Iterator[None]:
        is_new, self._is_new = self._is_new, False
        with self._widgets.dialog("question", wide, is_new=is_new):
            with self._widgets.font(self._widgets.faces.title):
                imgui.push_text_wrap_pos(0.0)
                imgui.text_unformatted(title)
                imgui.pop_text_wrap_pos()
            self._widgets.space(theme.SPACES[1])
            yield

    def _show(self, question: Question) -> None:
        widgets = self._widgets
        chosen = None
        with self._asked(question.title, question.wide * widgets.scale):
            for line in question.lines:
                widgets.text(line, colour=widgets.palette.second)
            if question.body is not None:
                widgets.space(theme.SPACES[2])
                question.body()
            widgets.space(theme.INSET)
            chosen = self._answers(question.answers, is_typed=question.is_typed)
        if chosen is not None:
            self._take(chosen)

    def _answers(self, answers: Sequence[Answer], *, is_typed: bool) -> Answer | None:
        """Lay out the answers, the usual one in chalk at the right; return the one that was pushed.

        The usual one has the keys, unless something `is_typed` first.
        """
        widgets, chosen = self._widgets, None
        gap, pad = 8 * widgets.scale, 2 * 14 * widgets.scale
        wides = [widgets.text_size(each.label, widgets.faces.strong)[0] + pad for each in answers]
        right, order = imgui.get_cursor_pos_x() + widgets.wide, list(zip(answers, wides, strict=True))
        x = right - sum(wides) - gap * (len(wides) - 1)
        y = imgui.get_cursor_pos_y()
        for answer, wide in (*order[1:], order[0]):
            is_usual = answer is answers[0]
            imgui.set_cursor_pos(ImVec2(x, y))
            if is_usual and imgui.is_window_appearing() and not is_typed:
                imgui.set_keyboard_focus_here()
                imgui.set_nav_cursor_visible(True)  # Enter and Tab count only while it is seen where they go
            if widgets.button(answer.label, f"ask.{answer.name}", wide=wide, look="chalk" if is_usual else "raised"):
                chosen = answer
            x += wide + gap
        return chosen

    def _take(self, answer: Answer) -> None:
        """Do what an answer says; keys go to the picture again."""
        self._question = None
        imgui.set_nav_cursor_visible(False)
        imgui.set_window_focus(None)
        answer.does()

    def _card(self, wide_px: float) -> None:
        widgets = self._widgets
        is_kept = False
        with self._asked("How large is this screen?", max(wide_px + 60 * widgets.scale, QUESTION * widgets.scale)):
            widgets.text(
                "Hold a bank card against the screen and make the outline just as wide. "
                "Any card of the usual size will do (85.60 x 53.98 mm, ISO/IEC 7810 ID-1)."
            )
            imgui.dummy(ImVec2(0, 4 * widgets.scale))
            tall = wide_px * screen_scale.CARD_MM[1] / screen_scale.CARD_MM[0]
            at = imgui.get_cursor_screen_pos()
            corner = wide_px * 3.18 / screen_scale.CARD_MM[0]  # its corners' radius in mm: ISO/IEC 7810:2019, ID-1
            draw = imgui.get_window_draw_list()
            draw.add_rect_filled(at, ImVec2(at.x + wide_px, at.y + tall), theme.packed(widgets.palette.raised), corner)
            draw.add_rect(
                at,
                ImVec2(at.x + wide_px, at.y + tall),
                theme.packed(widgets.palette.chalk),
                corner,
                max(1.0, widgets.scale),
            )
            imgui.dummy(ImVec2(wide_px, tall))
            widgets.mark("card")
            imgui.set_next_item_width(-1)
            low, high = (dpi / MM_PER_INCH * screen_scale.CARD_MM[0] for dpi in _DPI)
            changed, value = imgui.slider_float("##card.width", wide_px, low, high, "%.0f px wide")
            widgets.mark("card.width")
            if changed:
                self.card_px = value
            gap = 6 * widgets.scale
            quarter = (widgets.wide - 3 * gap) / 4
            for label, name, step in (("- 1 px", "less", -1.0), ("+ 1 px", "more", 1.0)):
                if widgets.button(label, f"card.{name}", wide=quarter):
                    self.card_px = wide_px + step
                imgui.same_line(0, gap)
            is_kept = widgets.button("Keep", "card.keep", wide=quarter)
            imgui.same_line(0, gap)
            if widgets.button("Cancel", "card.cancel", wide=quarter) or is_kept:
                self.card_px = None
        if is_kept and self._keep_card is not None:
            self._keep_card(screen_scale.from_card(wide_px))
