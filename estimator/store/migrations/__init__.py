"""Bringing an older file up to date, step by step, each step wholly or not at all."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from sqlalchemy import Connection

HEAD = 5
"""The version this program writes; each migration script raises it by one."""


def upgrade(connection: Connection, *, to: int = HEAD) -> None:
    """Run every step a file lacks, one transaction each.

    Whatever a step raises is raised on; the file is then as the last whole step left it.
    """
    # Loads slowly and is wanted only when a file is new or old.
    from alembic.config import Config  # noqa: PLC0415
    from alembic.runtime.environment import EnvironmentContext  # noqa: PLC0415
    from alembic.script import ScriptDirectory  # noqa: PLC0415

    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parent).replace("%", "%%"))
    config.set_main_option("path_separator", "os")
    script = ScriptDirectory.from_config(config)

    def steps(revision: Any, _context: Any) -> Iterable[Any]:
        return script._upgrade_revs(f"{to:04d}", revision)

    with EnvironmentContext(config, script, fn=steps) as environment:
        environment.configure(
            connection=connection,
            transactional_ddl=True,
            transaction_per_migration=True,
            render_as_batch=True,
            on_version_apply=_check_before_commit,
        )
        with environment.begin_transaction():
            environment.run_migrations()


def fingerprint() -> str:
    """Return a hash of all the steps as they are written, whatever ends their lines."""
    told = hashlib.sha256()
    for script in sorted((Path(__file__).parent / "versions").glob("v*.py")):
        told.update(script.read_text(encoding="utf-8").encode())
    return told.hexdigest()


def _check_before_commit(ctx: Any, step: Any, heads: Any, run_args: Any) -> None:  # noqa: ARG001
    """Undo a step that leaves a row pointing at nothing: foreign keys are off while it runs."""
    loose = ctx.connection.exec_driver_sql("PRAGMA foreign_key_check").first()
    if loose is not None:
        raise RuntimeError(f"a row of {loose[0]} would point at nothing in {loose[2]}")
