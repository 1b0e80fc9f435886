"""The left column of a call: what is known, and what to ask next."""
