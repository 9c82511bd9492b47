"""Hostile and clumsy input: a fuzzer (python -m tests.hostile), what it found, and every way a piece can be cut off."""
