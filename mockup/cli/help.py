"""The manual in the terminal."""

from __future__ import annotations

import click


@click.command("help")
@click.argument("topic", required=False)
def manual_page(topic: str | None) -> None:
    """Show a page of the manual, or list the pages."""
    from mockup import manual
    from mockup.model.errors import Fault, InputError, nearest

    topics = manual.topics()
    if topic is None:
        width = max(len(name) for name in topics)
        print("\n".join(f"{name:<{width}}  {title}" for name, title in topics.items()))
    elif topic in topics:
        print(manual.plain(topic), end="")
    else:
        raise InputError(Fault(file="help", what=f"there is no page {topic!r}", remedy=nearest(topic, tuple(topics))))
