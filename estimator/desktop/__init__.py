"""The desk: the window a contractor keeps open, over the same engine as the command line."""
