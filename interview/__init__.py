"""One piece, from the first question to the brief."""

__version__ = "0.1.0"
