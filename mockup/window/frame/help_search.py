"""Finding an answer in the help: sections of the manual and actions, by the words that somebody would type."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from mockup import manual
from mockup.window.actions.table import ACTIONS
from mockup.window.shell.key_names import written

_EMPTY = frozenset(
    [
        "how",
        "do",
        "does",
        "i",
        "a",
        "an",
        "the",
        "my",
        "to",
        "can",
        "is",
        "it",
        "of",
        "in",
        "on",
        "with",
        "what",
        "where",
        "when",
        "and",
        "or",
        "me",
        "you",
        "we",
        "so",
    ]
)
_SAME = {
    "delete": "remove", "erase": "remove", "copy": "twin", "duplicate": "twin", "rotate": "turn", "zoom": "nearer",
    "color": "colour", "text": "word", "lettering": "word", "export": "save", "pdf": "save", "position": "place",
    "align": "line", "enlarge": "nearer", "revert": "undo", "back": "undo", "screen": "window", "led": "lamp",
    "potentiometer": "pot", "hole": "drill", "image": "picture", "photo": "picture", "error": "finding",
    "problem": "finding", "warning": "finding",
}  # fmt: skip
"""Words that people bring along, and ours for the same thing."""
_TITLE, _TEXT = 5, 1  # how much a word in the title counts beside one in the text: our choice
_SHOWN = 12


@dataclass(frozen=True, kw_only=True)
class Answer:
    """One answer: what it is called, where it is from, what it says, and its key where it is an action."""

    title: str
    source: str
    text: str = ""
    keys: str = ""


def answers() -> tuple[Answer, ...]:
    """Return everything that can be found: the manual's sections in order, then the actions."""
    pages = [
        Answer(title=heading, source=title, text=text)
        for topic, title in manual.topics().items()
        for heading, text in manual.sections(topic)
        if text.strip()
    ]
    actions = [
        Answer(
            title=action.title, source="Keys" if action.keys else "Buttons", text=action.about,
            keys=" or ".join(written(key) for key in action.keys),
        )
        for action in ACTIONS
    ]  # fmt: skip
    return (*pages, *actions)


def search(asked: str, known: Sequence[Answer]) -> tuple[Answer, ...]:
    """Return the answers to a question, the best first; all words that mean something must be in each.

    Where no answer has them all, those that have most of them are returned.
    """
    same, empty = {_stem(word): ours for word, ours in _SAME.items()}, {_stem(word) for word in _EMPTY}
    words = [same.get(word, word) for word in _words(asked) if word not in empty]
    if not words:
        return ()
    scored = []
    for number, answer in enumerate(known):
        title, text = _words(f"{answer.title} {answer.source}"), _words(answer.text)
        hits = [_TITLE * _has(title, word) + min(_TEXT * _has(text, word), 3) for word in words]
        found = sum(hit > 0 for hit in hits)
        if found:
            scored.append((-found, -sum(hits), bool(answer.keys), number, answer))
    most = min((each[0] for each in scored), default=0)
    return tuple(each[-1] for each in sorted(scored, key=lambda each: each[:4]) if each[0] == most)[:_SHOWN]


def _words(text: str) -> list[str]:
    return [_stem(word) for word in re.findall(r"[a-z0-9]+", text.lower())]


def _stem(word: str) -> str:
    """Return a word without its ending, so that "labels" finds "label" and "moving" finds "move"."""
    for ending in ("ing", "ed", "es", "s", "e"):
        if word.endswith(ending) and len(word) - len(ending) >= 3:
            return word.removesuffix(ending)
    return word


def _has(words: Sequence[str], word: str) -> int:
    stem = _stem(word)
    return sum(each.startswith(stem) for each in words)
