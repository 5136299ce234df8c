"""The solution in words and tables: the report, the record, schedules, notes."""
