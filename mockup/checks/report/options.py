"""What a check of a design is asked for."""

from __future__ import annotations

from dataclasses import dataclass

from mockup.options import DesignRequest, option


@dataclass(frozen=True, kw_only=True)
class CheckOptions(DesignRequest):
    """Which checks run, what counts as failed, and where a picture of the findings goes."""

    only: tuple[str, ...] = option((), "run this check only; repeat for several", metavar="CHECK")
    strict: bool = option(False, "exit with 1 on warnings too")
    sources: bool = option(False, "name each finding's check and subjects, and where its limit comes from")
    picture: str | None = option(None, "file to write, .png or .jpg: each finding pointed at")
    mend: bool = option(False, "say the least that must move so that nothing stops or warns, proven by the checks")
    write: bool = option(False, "with --mend: make that change in the layout file")
    concede: bool = option(False, "with --mend: give something up where moving parts is not enough")
    pin: tuple[str, ...] = option((), "with --mend: a part that stays where it is; repeat for several", metavar="PART")
