"""What every test lives by: no window on the screen, no noise, and failures one can repeat."""

from __future__ import annotations

import logging
import os
from collections.abc import Generator

import hypothesis
import pytest

# Before any test imports Qt; a test run draws off screen unless told otherwise.
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

hypothesis.settings.register_profile("house", deadline=None, print_blob=True)
# Many more examples, for a night: HYPOTHESIS_PROFILE=long
hypothesis.settings.register_profile("long", deadline=None, print_blob=True, max_examples=2000)
hypothesis.settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "house"))


def pytest_addoption(parser: pytest.Parser) -> None:
    """Let the long tests be asked for."""
    parser.addoption("--long", action="store_true", help="run the tests that take minutes, too")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave the long tests out unless they were asked for."""
    if config.getoption("--long"):
        return
    skip = pytest.mark.skip(reason="takes minutes; ask for it with --long")
    for item in items:
        if item.get_closest_marker("long"):
            item.add_marker(skip)


class Collected(logging.Handler):
    """Keeps what is logged at WARNING or above."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.said: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.said.append(f"{record.name}: {record.getMessage()}")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_call(item: pytest.Item) -> Generator[None, None, None]:
    """Fail a test that logs a warning it did not ask for by using ``caplog``."""
    collected = Collected()
    logging.getLogger().addHandler(collected)
    try:
        yield
    finally:
        logging.getLogger().removeHandler(collected)
    if collected.said and "caplog" not in getattr(item, "fixturenames", ()):
        pytest.fail("logged without being expected: " + "; ".join(collected.said))
