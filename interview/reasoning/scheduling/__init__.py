"""Tasks on a calendar with shared hands, tables and racks. Knows nothing of the trade. Times are whole minutes."""
