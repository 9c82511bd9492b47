"""Measurements, by command; not part of the test run."""
