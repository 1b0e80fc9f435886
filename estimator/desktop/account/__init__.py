"""The account on the desk: what is asked for, what came in, what is open."""
