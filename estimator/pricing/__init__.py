"""What the measured work costs: the price book, the ladder from cost to price, tax and time."""
