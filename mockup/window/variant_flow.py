"""Making, naming, removing a variant, and making it the design: each one step of undo."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from mockup.layout.edit.undo import LayoutDocument
from mockup.model.edit import AdoptVariant, Edit, MakeVariant, RemoveVariant, RenameVariant
from mockup.model.errors import InputError
from mockup.window.desk import Desk
from mockup.window.work.removal import say_removed

FIRST = "Variant"
_REFUSED_S = 15.0  # a name that is taken back unasked is explained for so long: by eye


def show(desk: Desk, name: str | None) -> None:
    """Show a variant, None for the design itself, and its sheet; changes from now on are its own."""
    desk.view.change(desk.view.state.with_variant(name).with_page("variants"))
    desk.work.is_own_edit = name is not None


def make(desk: Desk) -> None:
    """Make a variant that is a copy of what is shown, and show it; its name waits to be typed."""
    known = desk.work.variants
    name = next(each for number in range(1, 1000) if (each := f"{FIRST} {number}") not in known)
    if _edited(desk, f"make {name}", [MakeVariant(name=name, like=desk.view.state.variant)]):
        desk.work.variants = (*known, name)
        _follow(desk, {desk.view.state.variant: name}, is_pane_only=True)
        show(desk, name)
        desk.widgets.focus.ask("variant.name")
        desk.window.settle()


def rename(desk: Desk, variant: str, name: str) -> None:
    """Give a variant another name."""
    name = " ".join(name.split())
    document = desk.work.document
    if not name or name == variant or document is None:
        return
    if name in desk.work.variants:
        text = f"There is a variant {name} already: this one stays {variant}. Give it a name of its own."
        desk.messages.say(text, seconds=_REFUSED_S)
        return
    if document.undoes == f"make {variant}":  # just made: one step, made under its name
        made = document.steps[document.done - 1].edits
        like = next((edit.like for edit in made if isinstance(edit, MakeVariant)), None)
        before = document.undone()
        done = _taken(desk, lambda: before.edited(f"make {name}", [MakeVariant(name=name, like=like)]))
    else:
        done = _edited(desk, f"rename {variant}", [RenameVariant(variant=variant, name=name)])
    if done:
        desk.work.variants = tuple(name if each == variant else each for each in desk.work.variants)
        _follow(desk, {variant: name})
        desk.work.is_own_edit = True


def remove(desk: Desk, variant: str) -> None:
    """Take a variant out."""
    if _edited(desk, f"remove {variant}", [RemoveVariant(variant=variant)]):
        desk.work.variants = tuple(each for each in desk.work.variants if each != variant)
        _follow(desk, {variant: None})
        say_removed(desk.work, desk.messages, variant)


def adopt(desk: Desk, variant: str) -> None:
    """Make a variant the design itself."""
    if _edited(desk, f"make {variant} the design", [AdoptVariant(variant=variant)]):
        desk.work.variants = tuple(each for each in desk.work.variants if each != variant)
        _follow(desk, {variant: None})
        desk.messages.say(f"{variant} is the design now.")


def _edited(desk: Desk, title: str, edits: Sequence[Edit]) -> bool:
    document = desk.work.document
    return document is not None and _taken(desk, lambda: document.edited(title, edits))


def _taken(desk: Desk, change: Callable[[], LayoutDocument]) -> bool:
    """Take a changed document without a picture yet: the panes still name the variants as they were."""
    try:
        desk.work.take(change(), is_shown=False)
    except InputError as error:
        desk.messages.say_error(error)
        return False
    return True


def _follow(desk: Desk, names: dict[str | None, str | None], *, is_pane_only: bool = False) -> None:
    """Show in the panes what the variants are called now, and have the pictures made."""
    state = desk.view.state
    shown = tuple(
        names.get(each, each) if not is_pane_only or index == state.active else each
        for index, each in enumerate(state.variants)
    )
    desk.view.change(replace(state, variants=shown))
    desk.work.request_scenes()
    desk.work.request_findings()
