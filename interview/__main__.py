"""`python -m interview` does what `beforepour` does."""

from interview.commands.entry import main

raise SystemExit(main())
