"""Whose a key is: the text's that has the caret, the cards', the window's, or nobody's."""

from __future__ import annotations

from typing import Literal

Owner = Literal["text", "cards", "window", "nobody"]

QUESTION_REST_S = 0.25
"""How long a question takes no keys once it is seen: those were pressed before it came. Our choice; it is about as long
as the quickest people take to answer to something that they see."""

_LINE_KEYS = """
ctrl+a ctrl+c ctrl+x ctrl+v ctrl+z ctrl+y ctrl+shift+z left right up down shift+left shift+right shift+up shift+down
ctrl+left ctrl+right ctrl+shift+left ctrl+shift+right home end shift+home shift+end delete backspace shift+delete
ctrl+delete ctrl+backspace insert enter tab shift+tab escape
"""  # what a line of text takes: common practice
_CARD_KEYS = "left right up down enter space tab shift+tab home end pageup pagedown"
_TEXT, _CARDS = (frozenset(listed.split()) for listed in (_LINE_KEYS, _CARD_KEYS))


def owner(
    key: str, *, is_typing: bool, is_list_open: bool, is_in_cards: bool, is_asked: bool, is_too_early: bool = False
) -> Owner:
    """Return whose a key such as "ctrl+z" is.

    `is_typing` while a text has the caret, `is_list_open` while a list hangs from a button, `is_in_cards` while keys go
    to a card, `is_asked` while a question waits, `is_too_early` while nobody can have seen it: what is typed into it is
    meant for it all the same, Enter too. A letter or digit alone is nobody's: as text it goes to the caret.
    """
    if is_typing and key in _TEXT:
        return "text"
    if is_too_early:
        return "nobody"
    if is_asked:
        return "cards" if key in _CARDS else "window" if key == "escape" else "nobody"
    if is_list_open and (key in _CARDS or key == "escape"):
        return "cards"
    if len(key.removeprefix("shift+")) == 1 or key in ("space", "shift+space", "backspace"):
        return "cards" if key == "space" and is_in_cards and not is_typing else "nobody"
    return "cards" if is_in_cards and not is_typing and key in _CARDS else "window"
