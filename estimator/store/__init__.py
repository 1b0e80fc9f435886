"""The one file a contractor's working life goes into, and everything that guards it."""
