"""A sentence, word by word: tokens, matches, scope, slots."""
