"""Tasks on a calendar with shared hands, tables and racks, in whole minutes. Knows nothing of the trade."""
