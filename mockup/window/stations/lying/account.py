"""What was loaded for a decal, and what is wrong with it, each with its one button."""

from __future__ import annotations

from mockup.decal.account import Account
from mockup.model.finding import Finding, Severity
from mockup.window import art_flow
from mockup.window.desk import Desk
from mockup.window.widgets.marked_row import marked_row

_SHOWN = ("Pixels", "Resolution", "Size", "Drawn in", "Clear", "Ground", "Inks", "Sharpness", "Note")
_NAMES = 0.31  # share of the width that the names take: by eye
_GRAVE = ("nearly white", "turned", "stamp", "larger")


def draw_account(desk: Desk, account: Account) -> None:
    """Draw the lines of an account, then its troubles, and what the checks say of the same picture."""
    widgets = desk.widgets
    for line in account.lines:
        if line.name in _SHOWN:
            with widgets.font(widgets.faces.tag):
                widgets.pair(line.name, line.text, _NAMES)
    for each in account.troubles:
        severity: Severity = "warn" if each.name in _GRAVE else "note"
        text = f"{each.title}: {each.what}. {each.order}." if not each.edits else f"{each.title}: {each.what}."
        name = f"remedy.{each.name.replace(' ', '-')}"
        if marked_row(desk.widgets, severity, text, each.doing, name, tip=each.order):
            art_flow.change(desk, each.title.lower(), each.edits)
    for index, finding in enumerate(desk.work.findings):
        if _is_about(finding, account.art) and marked_row(
            desk.widgets, finding.severity, finding.title, "Show me", f"finding.{index}"
        ):
            desk.view.change(desk.view.state.at_station("check").with_finding(index))


def _is_about(finding: Finding, art: str) -> bool:
    """Return whether a finding is about a picture; what its account says already is left out."""
    return finding.check != "art-file" and any(each.kind == "decal" and each.name == art for each in finding.subjects)
