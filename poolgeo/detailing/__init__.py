"""Detailing: what is done along every edge, about every fitting and at every corner."""
