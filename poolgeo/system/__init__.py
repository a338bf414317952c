"""Waterproofing systems: files of materials, layers and details, checked."""
