"""Tests of the reading of pool files."""
