"""Hostile and clumsy input: a fuzzer (python -m tests.hostile), what it found, every way of being cut off."""
