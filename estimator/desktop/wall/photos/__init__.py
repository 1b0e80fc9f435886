"""Photographs of the wall: taken in, marked at known points, and lying square under the drawing."""
