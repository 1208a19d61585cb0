"""Open the store: find its place, bring its tables up to date, hand out connections."""

from __future__ import annotations

import os
import sys
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path
from typing import Any

from sqlalchemy import Engine, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError, SQLAlchemyError

FOLDER_VARIABLE = "BAYRUN_DATA"
BUSY_MS = 10_000
"""How long a writer waits for another one before it gives up [ms]."""


class StoreError(RuntimeError):
    """The store cannot be opened; the message says why, for the person who started the program."""


@dataclass(frozen=True, slots=True)
class Store:
    """An open store; safe to use from several threads."""

    engine: Engine

    def close(self) -> None:
        """Let go of the connections."""
        self.engine.dispose()


def data_folder() -> Path:
    """The user's data folder: ``BAYRUN_DATA``, else the place this system keeps such things."""
    named = os.environ.get(FOLDER_VARIABLE)
    if named:
        return Path(named)
    if sys.platform == "win32":
        return Path(os.environ.get("LOCALAPPDATA") or Path.home() / "AppData" / "Local") / "Bayrun"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / "Bayrun"
    return Path(os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share") / "bayrun"


def open_store(url: str | None = None) -> Store:
    """Open a store and bring its tables up to date.

    Args:
        url: ``sqlite:///FILE`` or ``postgresql+psycopg://…``; None takes ``bayrun.db`` in the data folder.
    Raises:
        StoreError: The place cannot be used, or the tables were written by a newer Bayrun.
    """
    if url is None:
        folder = data_folder()
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise StoreError(
                f"The data folder {folder} cannot be made ({error.strerror}): "
                f"name another one in {FOLDER_VARIABLE}."
            ) from None
        url = f"sqlite:///{folder / 'bayrun.db'}"
    try:
        known = make_url(url)
        engine = create_engine(known)
    except (ArgumentError, ImportError) as error:
        raise StoreError(
            f"expected a store address such as sqlite:///jobs.db or postgresql+psycopg://host/name, "
            f"got {url!r} ({str(error).splitlines()[0]})"
        ) from None
    if known.get_backend_name() == "sqlite":
        _careful_sqlite(engine)
    try:
        _upgrade(engine)
    except SQLAlchemyError as error:
        engine.dispose()
        where = known.render_as_string(hide_password=True)
        reason = str(getattr(error, "orig", None) or error).splitlines()[0]
        raise StoreError(f"The store {where} cannot be used: {reason}") from None
    return Store(engine)


def _careful_sqlite(engine: Engine) -> None:
    """Write-ahead log with a full sync: what was acknowledged survives a kill; writers queue up."""

    def connected(connection: Any, _record: Any) -> None:
        connection.isolation_level = None  # BEGIN is ours, below
        cursor = connection.cursor()
        for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", f"busy_timeout={BUSY_MS}"):
            cursor.execute(f"PRAGMA {pragma}")
        cursor.close()

    def begun(connection: Any) -> None:
        connection.exec_driver_sql("BEGIN IMMEDIATE")

    event.listen(engine, "connect", connected)
    event.listen(engine, "begin", begun)


def _upgrade(engine: Engine) -> None:
    from alembic import command
    from alembic.config import Config
    from alembic.migration import MigrationContext
    from alembic.script import ScriptDirectory
    from alembic.util import CommandError

    config = Config()
    config.set_main_option("script_location", str(files("bayrun.store") / "migrations"))
    config.set_main_option("path_separator", "os")
    with engine.begin() as connection:
        config.attributes["connection"] = connection
        stands = MigrationContext.configure(connection).get_current_revision()
        try:
            if stands is not None:
                ScriptDirectory.from_config(config).get_revision(stands)
            command.upgrade(config, "head")
        except CommandError:
            raise StoreError(
                "The store was written by a newer Bayrun: update this one, or name another store."
            ) from None
