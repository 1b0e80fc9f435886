"""What must be done: scopes, rules, and the measured work with its marks on the wall."""
