"""Values from outside the project; each file cites its source."""
