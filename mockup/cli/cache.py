"""The commands of ``mockup cache``."""

from __future__ import annotations

import click

from mockup.cli.terminal import print_json, say


@click.group(invoke_without_command=True)
@click.option("--json", "is_json", is_flag=True, help="print the figures as JSON")
@click.pass_context
def cache(ctx: click.Context, is_json: bool) -> None:
    """Show where finished pictures are kept, and how many."""
    if ctx.invoked_subcommand is not None:
        return
    from mockup import cache

    store, limit = cache.store(), cache.limit()
    count, size = store.size()
    if is_json:
        told = {"folder": str(store.folder), "entries": count, "bytes": size, "limit_bytes": limit}
        print_json(told)
        return
    say(str(store.folder))
    entries = f"{count} entries" if count != 1 else "1 entry"
    print(f"{entries}, {cache.size_text(size)} of at most {cache.size_text(limit)}")


@cache.command("clear")
def cache_clear() -> None:
    """Remove everything that is kept."""
    from mockup import cache

    gone = cache.store().clear()
    print(f"removed {gone} entries" if gone != 1 else "removed 1 entry")


@cache.command("limit")
@click.argument("size")
def cache_limit(size: str) -> None:
    """Set how large it may grow, such as 500MB."""
    from mockup import cache

    print(f"at most {cache.size_text(cache.set_limit(size))} are kept")
