"""Paper: plain content first, then appearance, then bytes."""
