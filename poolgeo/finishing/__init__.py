"""Finishing: what finishes, nosings and coping stones take, from the surface and its edges."""
