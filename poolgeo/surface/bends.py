"""How far two faces must turn for an edge to lie between them: one answer for all who ask."""

from __future__ import annotations

LEAST_BEND = 10.0
"""[deg] Faces of one label at a plan corner must turn by this as built: a corner of 15 degrees
does, facets of a flattened curve do not."""

FLUSH = 1.0
"""[deg] Faces of different labels nearer to flat than this are flush: no edge. Two that stand on
one curve turn by up to `LEAST_BEND`."""
