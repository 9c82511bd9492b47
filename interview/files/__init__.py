"""All that touches the disk: journals, kept pieces, answers files, batch files, stock."""
