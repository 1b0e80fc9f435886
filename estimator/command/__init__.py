"""The engine from the command line, without a window."""
