"""Text as people and terminals bear it: no control signs, the nearest word."""
