"""Replies, journal, answers file, dialogue."""
