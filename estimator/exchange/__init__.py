"""Suppliers' price lists in and the catalogue out: pure, and blind to where it is kept."""
