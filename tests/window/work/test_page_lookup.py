"""A page in hand, looked up for the window: today's, and what is no mark."""

from __future__ import annotations

import threading
from pathlib import Path

from mockup import api
from mockup.fingerprint import fingerprint
from mockup.window.shell.mailbox import Mailbox
from mockup.window.work.page_lookup import PageLookup, PageQuestion


def test_the_newest_question_is_answered_in_the_windows_words(pond: Path) -> None:
    came = threading.Event()
    mailbox = Mailbox(came.set)
    lookup = PageLookup(mailbox)

    def answer(mark: str) -> str:
        came.clear()
        lookup.ask(PageQuestion(mark=mark, layout=pond))
        assert lookup.lines is None
        assert came.wait(60)
        mailbox.collect()
        assert lookup.lines is not None
        return lookup.lines[0]

    try:
        mark = fingerprint(api.load(pond))
        said = answer(mark.lower())
        assert said.startswith(f"{mark} is today's design")
        assert said.endswith("the page is right as it is.")
        assert answer("abc").startswith("'abc': has 3 signs")
    finally:
        lookup.close()
