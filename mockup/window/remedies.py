"""Going from finding to finding, trying their remedies, taking them, and accepting what is meant so."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from mockup.checks.report.accepted import acceptance_of
from mockup.model.edit import Address, Edit, InsertTable, Move, PutValue, RemoveTable, Value
from mockup.model.finding import Finding
from mockup.model.mesh import Floats
from mockup.scene.projection import facing
from mockup.scene.views import STRAIGHT_AT
from mockup.window.desk import Desk
from mockup.window.findings.causes import Cause, cause_of, causes
from mockup.window.work.mender import Cure, CureResult

_LEAST_FACING = 0.3  # of 1, how far a face is turned to the camera that is looked at: by eye
REASONS = ("It is meant so", "I file it to fit", "Measured: it clears")
"""Reasons to accept a finding; own words will do, too."""


def found(desk: Desk) -> tuple[Cause, ...]:
    """Return the causes of what was found, the worst first."""
    return causes(desk.work.findings)


def chosen(desk: Desk, there: Sequence[Cause]) -> int | None:
    """Return the number of the cause that is looked at."""
    return cause_of(there, desk.view.state.finding)


def step(desk: Desk, by: int) -> None:
    """Look at the next cause, or the one before, round and round."""
    there = found(desk)
    if not there:
        desk.messages.say("Nothing in the way.")
        return
    now = cause_of(there, desk.view.state.finding)
    at = (0 if by > 0 else -1) if now is None else (now + by) % len(there)
    desk.view.change(replace(desk.view.state, station="check", is_sheet_open=True))
    look_at(desk, there[at].first)


def show_next(desk: Desk) -> None:
    """Try the remedy of the cause that is looked at, else of the worst that has one."""
    there = found(desk)
    now = cause_of(there, desk.view.state.finding)
    wanted = ([there[now]] if now is not None else []) + list(there)
    cause = next((each for each in wanted if each.offered), None)
    if cause is None:
        desk.messages.say("None of these is mended by a move or a value.")
        return
    desk.view.change(replace(desk.view.state, station="check", is_sheet_open=True))
    show(desk, cause)


def show(desk: Desk, cause: Cause) -> None:
    """Try the remedy of a cause; keys that go to the cards go to the button that keeps it."""
    look_at(desk, cause.first, is_kept=True)
    desk.trial.show(cause.offered)
    _send_keys(desk, cause, "keep")


def put_back(desk: Desk) -> bool:
    """End the trial, nothing changed; False where there was none."""
    cause = next((each for each in found(desk) if desk.trial.is_of(each.offered)), None)
    is_ended = desk.trial.put_back()
    if cause is not None:
        _send_keys(desk, cause, "do")
    return is_ended


def keep(desk: Desk) -> None:
    """Take the remedy that is on trial."""
    desk.trial.keep(_title(desk.trial.edits))
    desk.view.change(desk.view.state.with_finding(None))
    if desk.widgets.focus.is_in_panel:
        desk.widgets.focus.ask("sheet")


def _send_keys(desk: Desk, cause: Cause, button: str) -> None:
    """Send keys that go to the cards to a button of a cause's card."""
    if desk.widgets.focus.is_in_panel:
        desk.widgets.focus.ask(f"finding.{found(desk).index(cause) + 1}.{button}")


def look_for_cure(desk: Desk) -> None:
    """Begin to look for the least change that cures all at once; what was on trial is put back."""
    desk.trial.put_back()
    desk.view.change(desk.view.state.with_finding(None))
    desk.mender.start(desk.work.question)


def cure_of_now(desk: Desk) -> CureResult | None:
    """Return what was found that cures all, None where nothing was, or for another layout than this one."""
    mender = desk.mender
    if mender.question is not None and mender.question != desk.work.question:
        mender.stop()  # the pedal was changed meanwhile
    return mender.result


def show_cure(desk: Desk, cure: Cure) -> None:
    """Try a cure of all, and turn to the face on which most is moved."""
    desk.trial.show(cure.edits)
    moved = [after.face for _, after in desk.trial.moved]
    if moved:
        desk.camera.see_face(max(moved, key=moved.count))


def accept(desk: Desk, cause: Cause, why: str) -> None:
    """Accept all findings of a cause, with the reason."""
    edits = tuple(_accepting(desk.work.findings[number], why) for number in cause.findings)
    desk.work.edit(lambda document, _: document.edited(f"accept {desk.work.findings[cause.first].title}", edits))


def open_again(desk: Desk, finding: Finding) -> None:
    """Take back that a finding was accepted."""
    if desk.work.document is None:
        return
    wanted = acceptance_of(finding, "")
    for number, table in enumerate(desk.work.document.raw.get("accept", ())):
        subjects = table.get("subjects", ())
        names = (subjects,) if isinstance(subjects, str) else tuple(subjects)
        if table.get("check") == wanted.check and frozenset(names) == frozenset(wanted.subjects):
            edit = RemoveTable(address=Address(way=("accept", number)))
            desk.work.edit(lambda document, _, edit=edit: document.edited("open again", (edit,)))  # type: ignore[misc]
            return


def _accepting(finding: Finding, why: str) -> InsertTable:
    kept = acceptance_of(finding, why)
    values: dict[str, Value] = {"check": kept.check, "subjects": list(kept.subjects), "why": kept.why}
    if kept.measured is not None:
        values["measured"] = kept.measured
    return InsertTable(address=Address(way=("accept",)), values=values)


def _title(edits: Sequence[Edit]) -> str:
    names = [
        str(each.address.way[1]) for each in edits if isinstance(each, Move | PutValue) and len(each.address.way) > 1
    ]
    return f"remedy for {', '.join(dict.fromkeys(names))}" if names else "remedy"


def look_at(desk: Desk, index: int, *, is_kept: bool = False) -> None:
    """Turn the camera to a finding; chosen again, it is let go unless it `is_kept`."""
    view, camera = desk.view, desk.camera
    if view.state.finding == index and not is_kept:
        view.change(view.state.with_finding(None))
        return
    finding = desk.work.findings[index]
    view.change(view.state.with_finding(index))
    mark = next(iter(finding.marks), None)
    face = desk.work.faces.get(mark.face) if mark is not None else None
    if mark is None or face is None:
        return
    point = face.to_world(np.array([mark.u_mm, mark.v_mm]))
    if desk.work.content.is_flipped or facing(camera.camera, point, face.out) < _LEAST_FACING:
        camera.take_view(STRAIGHT_AT[mark.face])
    elif not _is_well_seen(desk, point):
        camera.look_at(point)


def _is_well_seen(desk: Desk, point: Floats) -> bool:
    """True where a point lies well inside the active pane: then nothing has to move."""
    at = desk.camera.seen_at(point)
    if at is None:
        return False
    (left, top), (width, height) = desk.view.origin(desk.view.state.active), desk.view.pane_size()
    x, y = (at[0] - left) / width, (at[1] - top) / height
    return 0.08 < x < 0.92 and 0.08 < y < 0.92
