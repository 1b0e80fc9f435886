"""The contract: what was accepted, what was varied since, and what is owed for it."""
