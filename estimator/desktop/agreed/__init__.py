"""What follows the quotation: accepted, varied, done and paid for."""
