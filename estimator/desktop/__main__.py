"""Opens the desk: ``python -m estimator.desktop``."""

import sys

from estimator.desktop.application import run

if __name__ == "__main__":
    sys.exit(run())
