"""Start the program with ``python -m estimator``."""

import sys

from estimator.command.main import run

if __name__ == "__main__":
    sys.exit(run())
