"""Tests of the plan: curves and regions."""
