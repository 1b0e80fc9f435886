"""Column types shared by every table: whole pence, UTC times and plain text, never floats."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Annotated, Any

from sqlalchemy import Dialect, Integer, LargeBinary, TypeDecorator
from sqlalchemy import Text as SqlText
from sqlalchemy.orm import mapped_column

from estimator.store.faults import UNREADABLE, DamagedFile


class UtcTime(TypeDecorator[datetime]):
    """A moment, kept as ISO 8601 text in UTC to the microsecond, so that text sorts as time."""

    impl = SqlText
    cache_ok = True

    def process_bind_param(
        self,
        value: datetime | None,
        dialect: Dialect,  # noqa: ARG002
    ) -> str | None:
        """Return the text of a moment; one without a zone is refused."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError("a moment in the file needs its zone")
        return value.astimezone(UTC).isoformat(timespec="microseconds")

    def process_result_value(
        self,
        value: Any | None,
        dialect: Dialect,  # noqa: ARG002
    ) -> datetime | None:
        """Return the moment a text stands for."""
        if value is None:
            return None
        try:
            return datetime.fromisoformat(value)
        except ValueError as error:
            raise DamagedFile(UNREADABLE[0], do=UNREADABLE[1]) from error


Key = Annotated[int, mapped_column(Integer, primary_key=True)]
Text = Annotated[str, mapped_column(SqlText)]
Pence = Annotated[int, mapped_column(Integer)]
Flag = Annotated[bool, mapped_column(Integer)]
Moment = Annotated[datetime, mapped_column(UtcTime)]
Bytes = Annotated[bytes, mapped_column(LargeBinary)]
