"""The firm, its terms, its practice rules, and how the desk looks."""
