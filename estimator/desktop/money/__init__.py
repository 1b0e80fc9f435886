"""The right column: each option's price, always current."""
