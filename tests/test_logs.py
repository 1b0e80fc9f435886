"""The log: short, young, and nobody in it."""

from __future__ import annotations

import errno
import io
import logging
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from estimator import logs, resources
from estimator.logs import Said
from estimator.notices import UserMistake, WorldFault

TOKEN = "Zephyrine-Quillfeather"
UID = "0123456789abcdef0123456789abcdef"


@pytest.fixture
def handler(tmp_path: Path) -> Iterator[logging.Handler]:
    made = logs.set_up(tmp_path)
    yield made
    logs.take_down(made)


def written(folder: Path) -> str:
    return "".join(path.read_text(encoding="utf-8") for path in sorted(folder.rglob("*.log*")))


def test_a_line_tells_what_was_done_by_the_files_own_names(
    handler: logging.Handler, tmp_path: Path
) -> None:
    logs.note(Said.ERASED, customer=UID, paper="Q-0007", jobs=3, written_anew=True)
    line = written(tmp_path)
    assert line.endswith(
        f"INFO erased a customer customer={UID} paper=Q-0007 jobs=3 written_anew=True\n"
    )


@pytest.mark.parametrize(
    "value",
    [
        TOKEN,
        "01632 960777",
        "01632960777",
        1632960777,
        "zq@example.com",
        Path("/data") / TOKEN,
        [TOKEN],
        {TOKEN: 1},
        UID.upper(),
        f"{UID}\n{TOKEN}",
        1.5,
        None,
    ],
)
def test_what_does_not_fit_is_left_out(
    handler: logging.Handler, tmp_path: Path, value: object
) -> None:
    logs.note(Said.ERASED, customer=value)
    assert written(tmp_path).endswith("INFO erased a customer\n")


def test_names_of_facts_are_our_own_too(handler: logging.Handler, tmp_path: Path) -> None:
    logs.note(Said.ERASED, **{TOKEN: 1, "command": TOKEN, "exit": 2})
    assert written(tmp_path).endswith("INFO erased a customer exit=2\n")


def test_free_text_of_ours_or_of_a_library_is_left_out(
    handler: logging.Handler, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    logging.getLogger("perpend").info("opened %s", TOKEN)
    logging.getLogger("sqlalchemy.engine").warning("[SQL: ... ('%s',)]", TOKEN)
    logging.getLogger(TOKEN).critical(TOKEN)
    logging.getLogger("alembic").log(35, TOKEN, stack_info=True)
    assert TOKEN in caplog.text
    lines = [line.split(" ", 1)[1] for line in written(tmp_path).splitlines()]
    assert lines == [
        "WARNING a library warned sqlalchemy",
        "CRITICAL a library warned another",
        "OTHER a library warned alembic",
    ]


def test_an_exception_leaves_its_class_and_our_own_places(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    def asks() -> None:
        try:
            resources.path(TOKEN)
        except KeyError as error:
            raise RuntimeError(TOKEN) from error

    with pytest.raises(RuntimeError), logs.Kept(tmp_path, "erase"):
        asks()
    last = written(tmp_path).splitlines()[-1]
    assert "ERROR ended by a fault in the program [RuntimeError at no place of ours" in last
    assert "; after KeyError at resources.py:" in last
    assert TOKEN not in written(tmp_path)


@pytest.mark.parametrize(
    ("error", "said"),
    [
        (UserMistake(TOKEN), "ended with a mistake in what was given [UserMistake"),
        (WorldFault(TOKEN), "ended because the disk or the folder was in the way [WorldFault"),
    ],
)
def test_mistakes_are_told_apart_from_faults(tmp_path: Path, error: Exception, said: str) -> None:
    with pytest.raises(type(error)), logs.Kept(tmp_path, "export"):
        raise error
    assert said in written(tmp_path)
    assert TOKEN not in written(tmp_path)


def test_a_command_is_told_from_start_to_end(tmp_path: Path) -> None:
    with logs.Kept(tmp_path, "keep-list"):
        pass
    lines = [line.split(" ", 2)[2] for line in written(tmp_path).splitlines()]
    assert lines == ["started command=keep-list", "ended command=keep-list"]
    logs.note(Said.ERASED)
    assert "erased" not in written(tmp_path)


def test_five_files_of_a_megabyte_are_all_there_is(
    handler: logging.Handler, tmp_path: Path
) -> None:
    handler.maxBytes = 2_000  # type: ignore[attr-defined]
    for _ in range(300):
        logs.note(Said.ERASED, customer=UID)
    files = sorted((tmp_path / "logs").iterdir())
    assert [path.name for path in files] == [
        "perpend.log",
        *(f"perpend.log.{turn}" for turn in (1, 2, 3, 4)),
    ]
    assert all(path.stat().st_size <= 2_000 for path in files)


def test_the_shipped_sizes_are_those_promised(handler: logging.Handler) -> None:
    assert (handler.maxBytes, handler.backupCount) == (1_000_000, 4)  # type: ignore[attr-defined]


def test_lines_older_than_30_days_go_at_the_next_start(tmp_path: Path) -> None:
    today = date(2026, 11, 25)
    folder = tmp_path / "logs"
    folder.mkdir()
    days = {age: (today - timedelta(days=age)).isoformat() for age in (0, 30, 31, 400)}
    (folder / "perpend.log").write_text(
        "".join(f"{days[age]}T09:00:00+00:00 INFO started\n" for age in (31, 30, 0)),
        encoding="utf-8",
    )
    (folder / "perpend.log.1").write_text(f"{days[400]} INFO\nno date\n", encoding="utf-8")
    logs.take_down(logs.set_up(tmp_path, today=today))
    assert not (folder / "perpend.log.1").exists()
    assert [line[:10] for line in written(tmp_path).splitlines()] == [days[30], days[0]]


def test_the_log_is_private(handler: logging.Handler, tmp_path: Path) -> None:
    assert (tmp_path / "logs" / "perpend.log").stat().st_mode & 0o077 == 0
    assert (tmp_path / "logs").stat().st_mode & 0o077 == 0


def test_where_no_log_can_be_kept_the_program_runs_all_the_same(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "logs").write_text("in the way", encoding="utf-8")
    with logs.Kept(tmp_path, "jobs"):
        logs.note(Said.ERASED, customer=UID)
    assert capsys.readouterr() == ("", "")


def test_no_folder_is_made_for_a_log(tmp_path: Path) -> None:
    with logs.Kept(tmp_path / "not there", "where"):
        logs.note(Said.ERASED, customer=UID)
    assert list(tmp_path.iterdir()) == []


def test_a_full_disk_prints_nothing_of_what_was_to_be_logged(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    class Full(io.StringIO):
        def write(self, text: str) -> int:
            raise OSError(errno.ENOSPC, "No space left on device", TOKEN)

    handler = logs.set_up(tmp_path)
    handler.setStream(Full()).close()  # type: ignore[attr-defined]
    logs.note(Said.ERASED, customer=TOKEN)
    logs.take_down(handler)
    assert capsys.readouterr() == ("", "")


def test_times_are_in_utc(handler: logging.Handler, tmp_path: Path) -> None:
    logs.note(Said.ERASED)
    moment = datetime.fromisoformat(written(tmp_path).split(" ")[0])
    assert abs(datetime.now(UTC) - moment) < timedelta(minutes=1)
