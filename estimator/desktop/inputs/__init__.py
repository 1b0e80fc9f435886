"""What people type, and what is understood by it."""
