"""Floors: from what the pool file says to heights over the plan."""
