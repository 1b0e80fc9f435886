"""An agreed job over a real file."""

from __future__ import annotations

from tests.desktop.agreed.conftest import agreed, columns, quoted
from tests.desktop.works.conftest import again, planned

__all__ = ["again", "agreed", "columns", "planned", "quoted"]
