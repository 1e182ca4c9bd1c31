"""The book of findings: each variant in sight has its own, those beside are looked at after the one in hand."""

from pathlib import Path

import pytest

from mockup.model.finding import Finding
from mockup.window.work import finding_book
from mockup.window.work.check_runner import CheckRequest, CheckResult
from mockup.window.work.finding_book import FindingBook
from mockup.window.work.project import Project

PROJECT = Project(layout=Path("/pond/layout.toml"))
BASE, MOSS = CheckRequest(project=PROJECT), CheckRequest(project=PROJECT, variant="moss")
STOP = Finding(severity="stop", title="x", what="x")


class Mailbox:
    def post(self, deed):
        deed()


class Messages:
    def fault(self, *_):
        pass

    def mended(self, *_):
        pass


@pytest.fixture
def book(monkeypatch):
    asked = []

    class Runner:
        def __init__(self, deliver):
            self.deliver = deliver

        def request(self, question):
            asked.append(question)

    monkeypatch.setattr(finding_book, "CheckRunner", Runner)
    made = FindingBook(Mailbox(), Messages())
    made.asked = asked
    return made


def answer(book, question, *findings):
    book._checker.deliver(CheckResult(question=question, findings=findings))


def test_a_pane_beside_has_its_own_findings(book):
    book.request(BASE, [BASE, MOSS])
    assert book.asked == [BASE]
    answer(book, BASE)
    assert (book.checked, book.findings, book.of(BASE), book.of(MOSS)) == ("", (), (), None)
    assert book.asked == [BASE, MOSS]
    answer(book, MOSS, STOP)
    assert book.of(MOSS) == (STOP,)
    assert book.findings == ()  # those of the one in hand stay its own
    assert (book.checked, book.asked) == ("", [BASE, MOSS])


def test_a_change_forgets_what_was_known(book):
    book.request(BASE, [MOSS])
    answer(book, BASE)
    answer(book, MOSS, STOP)
    changed = CheckRequest(project=PROJECT, text="name = 'x'")
    book.request(changed, [CheckRequest(project=PROJECT, text="name = 'x'", variant="moss")])
    assert book.of(MOSS) is None
    answer(book, MOSS, STOP)  # too late
    assert book.of(MOSS) is None
    assert book.findings == ()  # nor are they those of the one in hand


def test_what_cannot_be_checked_beside_is_not_asked_for_again_and_again(book):
    book.request(BASE, [MOSS])
    answer(book, BASE)
    book._checker.deliver(CheckResult(question=MOSS, faults=("broken",)))
    assert book.asked == [BASE, MOSS]
    assert not book.is_checking
