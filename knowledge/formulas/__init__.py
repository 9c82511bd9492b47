"""Published relations, one module a subject, each function citing its source."""
