"""From answers to findings: pure functions that know no terminal, no file and no clock of the machine."""
