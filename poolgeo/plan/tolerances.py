"""Every tolerance of the geometry, once, with its unit and its reason."""

from __future__ import annotations

import math

GRID = 1e-6
"""[m] Plan coordinates are snapped to this grid once; then topology is integers."""

WELD = 2e-5
"""[m] Plan vertices nearer to each other, and lines nearer to a vertex, become one: some times what
rounding to the grid can move them by, so that regions rounded each on its own still fit."""

SAME_HEIGHT = 2e-5
"""[m] Two heights at one plan point nearer than this are one (grid times the steepest cell)."""

AREA_LOSS = 4e-4
"""[-] Share of its area that a flattened outline may lose, however coarse the tolerance: with what
else is lost, volumes stay within 0.05 %, areas and lengths within 0.1 %."""

LENGTH_LOSS = 5e-4
"""[-] Share of its length that the section of a cove may lose: its mitres stay within 0.05 %."""

OUTLINE_TURN = math.sqrt(6.0 * AREA_LOSS)
"""[rad] Largest turn of one chord of a closed outline: chords of turn a lose a^2/6 of its area."""

SECTION_TURN = math.sqrt(24.0 * LENGTH_LOSS)
"""[rad] Largest turn of one chord of a cove's section: a chord of turn a loses a^2/24 of length."""

SHARP_TURN = 0.12
"""[rad] Two chords that turn by more than this make a corner in a path; facets turn by less."""

CORNER = math.radians(15.0)
"""[rad] Least deflection of a true curve that counts as a plan corner of an edge run."""
