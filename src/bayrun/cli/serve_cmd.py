"""``bayrun serve``: the page on this computer."""

from __future__ import annotations

import click

from bayrun.cli.talk import refuse


@click.command(help="Open the page: draw, plan, check and print a house in the browser on this computer.")
@click.option(
    "--port", type=click.IntRange(1, 65535), default=None, help="Port on this computer (default: 8710)."
)
@click.option("--store", default=None, help="Where jobs are kept, as an address (default: your data folder).")
@click.option("--no-browser", is_flag=True, help="Only print the address.")
def serve(port: int | None, store: str | None, no_browser: bool) -> None:
    """Serve the page until Ctrl-C."""
    from bayrun.store import StoreError
    from bayrun.web.serve import ServeError
    from bayrun.web.serve import serve as run

    def say(words: str) -> None:
        click.echo(words, err=True)

    try:
        run(port=port, store_url=store, open_page=not no_browser, say=say)
    except (ServeError, StoreError) as error:
        raise refuse("serve", str(error)) from None
