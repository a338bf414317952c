"""Drawings as plain geometry: what stands where on which layer. No file format is known here."""
