"""What a log says for the next one: how the pedal was made, and where its pictures and fonts come from."""

from __future__ import annotations

from mockup.encode.document import Paragraph, Section, TextTable
from mockup.model.making import Credit, Making

_UNKNOWN = "not written down"
_TOPICS = {
    "paint": "Paint",
    "coats": "Coats",
    "film": "Film",
    "printer": "Printer settings",
    "suppliers": "Suppliers",
    "remarks": "Remarks",
}


def making_sections(making: Making) -> tuple[Section, ...]:
    """Return the builder's own words, and a row for each picture, font and further file; none where there is nothing.

    Where nobody has said anything, all files are in one sentence, not in a table of blanks.
    """
    rows: list[tuple[str, str]] = [("Made", making.purpose)] if making.purpose is not None else []
    rows += [(_TOPICS[topic], line) for topic, lines in making.words.items() for line in lines]
    told = (Section(heading="In the builder's words", blocks=(TextTable(head=("What", "How"), rows=tuple(rows)),)),)
    return (*(told if rows else ()), *_series(making), *_credits(making))


def _series(making: Making) -> tuple[Section, ...]:
    """Return who got which; a column for each field that some copy has."""
    if not making.copies:
        return ()
    fields = dict.fromkeys(name for each in making.copies for name in each.fields)
    head = ("Serial number", "Date", "To", *(name.capitalize() for name in fields))
    rows = tuple(
        (each.serial, each.date, each.to, *(each.fields.get(name, "") for name in fields)) for each in making.copies
    )
    return (Section(heading="Who got which", blocks=(TextTable(head=head, rows=rows),)),)


def _credits(making: Making) -> tuple[Section, ...]:
    if not making.credits:
        return ()
    heading = "Where pictures and fonts come from"
    if not any(each.source or each.author or each.terms for each in making.credits):
        names = ", ".join(each.file for each in making.credits)
        return (Section(heading=heading, blocks=(Paragraph(text=f"Not written down, for {names}."),)),)
    table = TextTable(head=("File", "From", "By", "Terms"), rows=tuple(map(_row, making.credits)))
    return (Section(heading=heading, blocks=(table,)),)


def _row(credit: Credit) -> tuple[str, ...]:
    return credit.file, *(each or _UNKNOWN for each in (credit.source, credit.author, credit.terms))
