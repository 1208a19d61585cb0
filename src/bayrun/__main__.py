"""``python -m bayrun``: the command line."""

from __future__ import annotations

from bayrun.cli.main import main

if __name__ == "__main__":
    main(prog_name="bayrun")
