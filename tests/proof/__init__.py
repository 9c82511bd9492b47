"""The proof: what must always hold, checked over every piece that can be reached by answering."""
