"""Reading a free sentence: tokens, phrases, scopes of denial, and the slots they fill."""
