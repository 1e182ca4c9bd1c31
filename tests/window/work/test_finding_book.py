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


def test_an_older_answer_is_shown_but_is_not_the_last_word(book):
    changed = CheckRequest(project=PROJECT, text="name = 'x'")
    book.request(BASE)
    book.request(changed)
    answer(book, BASE, STOP)
    assert book.findings == (STOP,)
    assert book.is_checking
    answer(book, changed)
    assert (book.findings, book.is_checking) == ((), False)


def test_what_was_on_trial_and_put_back_is_no_finding_of_the_pedal(book):
    tried = CheckRequest(project=PROJECT, text="name = 'tried'")
    book.request(BASE)
    book.request_trial(tried)  # it pushes out what was asked before
    book.end_trial()
    answer(book, tried, STOP)
    assert (book.findings, book.of_trial, book.is_checking) == ((), None, True)
    assert book.asked == [BASE, tried, BASE]
    answer(book, BASE)
    assert not book.is_checking


def test_a_trial_that_is_kept_needs_no_second_answer(book):
    tried = CheckRequest(project=PROJECT, text="name = 'tried'")
    book.request(BASE)
    answer(book, BASE, STOP)
    book.request_trial(tried)
    book.end_trial()
    book.request(tried)
    answer(book, tried)
    assert (book.findings, book.is_checking) == ((), False)
