"""What was offered: the trader, the frozen quotation and the estimate."""
