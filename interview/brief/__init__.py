"""Rendering a plan: terminal, Markdown, HTML, JSON, calendar, CSV."""
