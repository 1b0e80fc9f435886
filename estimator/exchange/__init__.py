"""Price lists in, and open formats out."""
