"""Tests of the takeoff."""
