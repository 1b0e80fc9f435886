"""What can be done on the wall by hand: one module a tool."""
