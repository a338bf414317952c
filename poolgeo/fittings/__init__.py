"""Fittings: what goes through the shell, set on the labelled surface and checked to fit there."""
