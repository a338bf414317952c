"""Tests of the surface: closed forms, closedness and labels."""
