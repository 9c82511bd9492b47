"""`python -m interview` does what `beforepour` does."""

from interview.cli import main

raise SystemExit(main())
