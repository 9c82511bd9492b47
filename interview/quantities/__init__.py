"""Amounts in words and units; the only room that knows pint."""
