"""Alembic's entry: the connection is handed in by ``store.open``."""

from alembic import context

from bayrun.store.tables import METADATA

context.configure(connection=context.config.attributes["connection"], target_metadata=METADATA)
with context.begin_transaction():
    context.run_migrations()
