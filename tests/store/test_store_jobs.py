"""Jobs in the store: steps, undo and redo, saves by name, two at once, a kill in the middle."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import inspect

from bayrun import store as kept
from bayrun.store.tables import METADATA
from conftest import ROOT, count


@pytest.fixture
def store(tmp_path: Path) -> Iterator[kept.Store]:
    opened = kept.open_store(f"sqlite:///{tmp_path / 'jobs.db'}")
    yield opened
    opened.close()


def test_a_job_is_kept_and_found_again(store: kept.Store) -> None:
    row = kept.add_job(store, "House A", "id: a\n", says="demo house A", by="Ana")
    assert (row.version, row.step, row.can_undo, row.can_redo) == (1, 0, False, False)
    assert kept.text_of(store, row.id) == (row, "id: a\n")
    assert kept.jobs_kept(store) == (row,)
    assert row.made.utcoffset() is not None
    (first,) = kept.steps_since(store, row.id)
    assert (first.says, first.by) == ("demo house A", "Ana")


def test_the_migrations_make_the_very_tables(store: kept.Store) -> None:
    from alembic.autogenerate import compare_metadata
    from alembic.migration import MigrationContext

    with store.engine.begin() as connection:
        assert compare_metadata(MigrationContext.configure(connection), METADATA) == []
    assert {"jobs", "steps", "revisions"} <= set(inspect(store.engine).get_table_names())


def test_undo_and_redo_walk_the_steps_and_an_edit_ends_the_redo(store: kept.Store) -> None:
    row = kept.add_job(store, "House", "0", says="empty house")
    for n in (1, 2, 3):
        row = kept.record_step(store, row.id, row.version, str(n), says=f"edit {n}")
    row = kept.step_back(store, row.id, row.version)
    row = kept.step_back(store, row.id, row.version)
    assert kept.text_of(store, row.id)[1] == "1"
    assert row.can_redo
    row = kept.step_forward(store, row.id, row.version)
    assert kept.text_of(store, row.id)[1] == "2"
    row = kept.record_step(store, row.id, row.version, "2b", says="another way")
    assert not row.can_redo
    with pytest.raises(kept.NotKept, match="nothing to redo"):
        kept.step_forward(store, row.id, row.version)
    for _ in range(3):
        row = kept.step_back(store, row.id, row.version)
    assert kept.text_of(store, row.id)[1] == "0"
    with pytest.raises(kept.NotKept, match="nothing to undo"):
        kept.step_back(store, row.id, row.version)


def test_the_second_of_two_is_told_and_nothing_is_lost(store: kept.Store) -> None:
    row = kept.add_job(store, "House", "0", says="empty house")
    kept.record_step(store, row.id, row.version, "hers", says="moved a box", by="Ana")
    with pytest.raises(kept.Changed, match=r"Ana: moved a box\)\. Nothing of yours") as caught:
        kept.record_step(store, row.id, row.version, "his", says="moved a wall", by="Ben")
    assert caught.value.job.version == 2
    assert kept.text_of(store, row.id)[1] == "hers"
    with pytest.raises(kept.Changed):
        kept.step_back(store, row.id, row.version)


def test_many_at_once_make_one_line_of_steps(store: kept.Store) -> None:
    row = kept.add_job(store, "House", "0", says="empty house")
    each, done = 8, []

    def work(who: int) -> None:
        for n in range(each):
            while True:
                seen = kept.job_by_id(store, row.id)
                try:
                    kept.record_step(store, row.id, seen.version, f"{who}.{n}", says=f"{who}.{n}")
                except kept.Changed:
                    continue
                done.append((who, n))
                break

    threads = [threading.Thread(target=work, args=(who,)) for who in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(60)
    steps = kept.steps_since(store, row.id)
    assert [s.number for s in steps] == list(range(4 * each + 1))
    assert sorted(s.says for s in steps[1:]) == sorted(f"{who}.{n}" for who, n in done)


def test_a_save_is_named_compared_and_restored(store: kept.Store) -> None:
    row = kept.add_job(store, "House", "first", says="empty house")
    save = kept.keep_revision(store, row.id, "  before   the walk ")
    assert save.name == "before the walk"
    row = kept.record_step(store, row.id, row.version, "second", says="edit")
    assert kept.revision_text(store, row.id, save.number) == (save, "first")
    row = kept.restore_revision(store, row.id, row.version, save.number)
    assert kept.text_of(store, row.id)[1] == "first"
    assert kept.text_of(store, row.id, kept.step_back(store, row.id, row.version).step)[1] == "second"
    for name, says in (("", "needs a name"), ("before the walk", "There is a save")):
        with pytest.raises(ValueError, match=says):
            kept.keep_revision(store, row.id, name)
    with pytest.raises(kept.NotKept, match="House has no save number 9"):
        kept.revision_text(store, row.id, 9)


def test_a_forgotten_job_leaves_nothing(store: kept.Store) -> None:
    row = kept.add_job(store, "House", "first", says="empty house")
    kept.keep_revision(store, row.id, "one")
    kept.forget_job(store, row.id)
    with pytest.raises(kept.NotKept, match="not kept here"):
        kept.job_by_id(store, row.id)
    with store.engine.begin() as connection:
        for table in METADATA.sorted_tables:
            assert connection.execute(table.select()).all() == []


def test_a_store_that_cannot_be_opened_says_why(tmp_path: Path) -> None:
    (tmp_path / "notes.db").write_text("this is no database, but a note of some length, long enough")
    with pytest.raises(kept.StoreError, match="cannot be used: file is not a database"):
        kept.open_store(f"sqlite:///{tmp_path / 'notes.db'}")
    with pytest.raises(kept.StoreError, match="expected a store address such as"):
        kept.open_store("over there")


def test_tables_of_a_newer_program_are_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "jobs.db"
    kept.open_store(f"sqlite:///{path}").close()
    with sqlite3.connect(path) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
    connection.close()
    with pytest.raises(kept.StoreError, match="written by a newer Bayrun"):
        kept.open_store(f"sqlite:///{path}")


_WRITER = """
import sys
from bayrun import store as kept
store = kept.open_store(sys.argv[1])
row = kept.job_by_id(store, sys.argv[2])
for n in range(100000):
    row = kept.record_step(store, row.id, row.version, f"text {n}", says=f"edit {n}")
    print(n, flush=True)
"""


def test_what_was_acknowledged_survives_a_kill(tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path / 'jobs.db'}"
    first = kept.open_store(url)
    row = kept.add_job(first, "House", "", says="empty house")
    first.close()
    for seen in (count(15, 300), count(5, 100)):
        child = subprocess.Popen(
            [sys.executable, "-c", _WRITER, url, row.id],
            stdout=subprocess.PIPE,
            text=True,
            env={"PYTHONPATH": str(ROOT / "src"), "PATH": "/usr/bin:/bin"},
        )
        assert child.stdout is not None
        said = [int(child.stdout.readline()) for _ in range(seen)]
        child.kill()
        said += [int(line) for line in child.stdout.read().split()]
        child.stdout.close()
        child.wait()
        again = kept.open_store(url)
        steps = {s.says for s in kept.steps_since(again, row.id)}
        assert {f"edit {n}" for n in said} <= steps
        assert kept.text_of(again, row.id)[1].startswith("text")
        again.close()
