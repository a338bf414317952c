"""Tests of the writers, on a pool made by hand."""
