"""Jobs, their steps (undo and redo), and the saves that people name."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

_UTC = sa.DateTime(timezone=True)


def upgrade() -> None:
    """Make the three tables."""
    op.create_table(
        "jobs",
        sa.Column("id", sa.String(32), nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("step", sa.Integer, nullable=False),
        sa.Column("made", _UTC, nullable=False),
        sa.Column("changed", _UTC, nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_jobs"),
    )
    op.create_table(
        "steps",
        sa.Column("job", sa.String(32), nullable=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("says", sa.Text, nullable=False),
        sa.Column("by", sa.Text, nullable=False),
        sa.Column("at", _UTC, nullable=False),
        sa.Column("body", sa.LargeBinary, nullable=False),
        sa.PrimaryKeyConstraint("job", "number", name="pk_steps"),
        sa.ForeignKeyConstraint(["job"], ["jobs.id"], name="fk_steps_job_jobs", ondelete="CASCADE"),
    )
    op.create_table(
        "revisions",
        sa.Column("job", sa.String(32), nullable=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("by", sa.Text, nullable=False),
        sa.Column("at", _UTC, nullable=False),
        sa.Column("body", sa.LargeBinary, nullable=False),
        sa.PrimaryKeyConstraint("job", "number", name="pk_revisions"),
        sa.ForeignKeyConstraint(["job"], ["jobs.id"], name="fk_revisions_job_jobs", ondelete="CASCADE"),
        sa.UniqueConstraint("job", "name", name="uq_revisions_job"),
    )


def downgrade() -> None:
    """Take them away."""
    for table in ("revisions", "steps", "jobs"):
        op.drop_table(table)
