"""Jointing: where the finish's movement joints run, planned or checked."""
