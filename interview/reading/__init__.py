"""The one reader: words as typed become answers."""
