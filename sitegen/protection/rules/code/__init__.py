"""What the book that a job names asks of it: rules as data (table.py), each with its condition, held against the map."""
