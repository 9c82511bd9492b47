"""Moved to interview.answers; this stays until the last importer has followed."""

from interview.answers import NOT_SURE, Answer, Answers, NotSure, Origin  # noqa: F401
