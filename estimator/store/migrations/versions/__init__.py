"""One script a step, oldest first."""
