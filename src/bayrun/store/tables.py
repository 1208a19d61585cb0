"""The tables, in SQLAlchemy's terms. A change here needs a migration beside the others."""

from __future__ import annotations

import datetime
from typing import Any

from sqlalchemy import (
    Column,
    DateTime,
    Dialect,
    ForeignKey,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    TypeDecorator,
    UniqueConstraint,
)

METADATA = MetaData(
    naming_convention={
        "pk": "pk_%(table_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s_%(referred_table_name)s",
        "uq": "uq_%(table_name)s_%(column_0_name)s",
        "ix": "ix_%(table_name)s_%(column_0_name)s",
    }
)


class Utc(TypeDecorator[datetime.datetime]):
    """A moment in UTC; SQLite gives back times without a zone, so the zone is put on here."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: Any, dialect: Dialect) -> datetime.datetime | None:
        """To the database: always in UTC."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"expected a time with a zone, got {value!r}")
        moment: datetime.datetime = value.astimezone(datetime.UTC)
        return moment.replace(tzinfo=None) if dialect.name == "sqlite" else moment

    def process_result_value(self, value: Any, dialect: Dialect) -> datetime.datetime | None:
        """From the database: always with a zone."""
        if value is None:
            return None
        moment: datetime.datetime = value
        return moment.replace(tzinfo=datetime.UTC) if moment.tzinfo is None else moment


jobs = Table(
    "jobs",
    METADATA,
    Column("id", String(32), primary_key=True),
    Column("name", Text, nullable=False),
    Column("version", Integer, nullable=False),
    Column("step", Integer, nullable=False),
    Column("made", Utc, nullable=False),
    Column("changed", Utc, nullable=False),
)

steps = Table(
    "steps",
    METADATA,
    Column("job", ForeignKey("jobs.id", ondelete="CASCADE"), primary_key=True),
    Column("number", Integer, primary_key=True),
    Column("version", Integer, nullable=False),
    Column("says", Text, nullable=False),
    Column("by", Text, nullable=False),
    Column("at", Utc, nullable=False),
    Column("body", LargeBinary, nullable=False),
)

revisions = Table(
    "revisions",
    METADATA,
    Column("job", ForeignKey("jobs.id", ondelete="CASCADE"), primary_key=True),
    Column("number", Integer, primary_key=True),
    Column("name", Text, nullable=False),
    Column("by", Text, nullable=False),
    Column("at", Utc, nullable=False),
    Column("body", LargeBinary, nullable=False),
    UniqueConstraint("job", "name"),
)
