"""Whether coves and leaning walls fit between walls, floor and what stands on it, as lofted."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from ...errors import Key
from ..cells import Cells
from ..cove import cove_cells
from ..rolled import CoveMisfitError
from .cove_stretches import FootRun
from .part import Block
from .site import Site
from .wall_lines import CROWD, laps_over

LEAST_OFFER = 0.01
"""[m], or [-] of a batter: one smaller is not worth offering."""

OFFERED_IN = 0.001
"""[m], [-] The steps in which a finding says what fits."""


@dataclass(frozen=True)
class CoveFit:
    """What the cove of a body of water has to fit.

    Args:
        site: The body of water.
        standing: What takes the cove at its foot.
        shows: The open floor between that and the walls.
        form: ``cove`` or ``fillet``.
        key: The cove's key, or that of the batter where there is none.
    """

    site: Site
    standing: Sequence[Block]
    shows: shapely.Geometry
    form: str
    key: Key

    def lofted(self, run: FootRun) -> Cells | None:
        """Loft a run; where it does not fit leave a finding."""
        try:
            return self._cells(run)
        except CoveMisfitError as error:
            self._refuse(run, error)
            return None

    def _cells(self, run: FootRun, share: float = 1.0) -> Cells:
        """Loft a run, the ball a share as large; without a ball, leaning so much less."""
        size, batter = run.size.times(share), run.batter
        if not size.largest:
            batter = replace(batter, lean=share * batter.lean)
        cells = cove_cells(
            run.lines,
            self.site.floor,
            size,
            self.site.tolerance,
            closed=run.closed,
            straight=self.form == "fillet",
            batter=batter,
            touches=None if run.closed else shapely.boundary(self.shows),
            run_on=run.run_on,
        )
        if not run.closed and laps_over(cells):
            reason = "the stretch between its ends is too short for the corner there"
            raise CoveMisfitError(reason, run.lines[0].points[-1 if run.run_on[0] else 0])
        if not batter.lean:  # else it is looked after as it is lofted
            self._check_height(cells)
        return cells

    def _check_height(self, cells: Cells) -> None:
        """The ball must touch the wall, and what stands, below its top.

        Raises:
            CoveMisfitError: It does not.
        """
        walls = cells.vertices[np.unique(np.concatenate(cells.walls))]
        places = shapely.points(walls[:, :2])
        too_high = walls[:, 2] - self.site.wall_top
        names = np.full(len(walls), "the wall", dtype=object)
        for block in self.standing:
            on = np.flatnonzero(shapely.dwithin(block.region, places, CROWD))
            over = walls[on, 2] - block.tops(walls[on, :2])
            on, over = on[over > too_high[on]], over[over > too_high[on]]
            too_high[on], names[on] = over, f"'{block.name}'"
        highest = int(np.argmax(too_high))
        if too_high[highest] >= 0.0:
            reason = f"{names[highest]} is lower than it"
            raise CoveMisfitError(reason, walls[highest, :2])

    def _fits(self, run: FootRun, share: float) -> bool:
        try:
            self._cells(run, share)
        except CoveMisfitError:
            return False
        return True

    def _refuse(self, run: FootRun, error: CoveMisfitError) -> None:
        """Leave a finding that names the place and the largest radius, or batter, that fits."""
        radius, site = run.size.largest, self.site
        size = radius or run.batter.lean
        low, high = 0.0, size
        if self._fits(run, LEAST_OFFER / size):  # else there is no need to look further
            low = LEAST_OFFER
            while high - low > OFFERED_IN:
                middle = (low + high) / 2.0
                low, high = (middle, high) if self._fits(run, middle / size) else (low, middle)
        most = math.floor(low / OFFERED_IN + 1e-9) * OFFERED_IN
        unit = " m" if radius else ""
        remedy = f"use at most {most:.3f}{unit}" if most else "nothing fits there; change the plan"
        at_corner_cove = any(
            np.hypot(*(error.place - item.middle)) < item.arc.radius for item in site.ring.rounds
        )
        if radius and at_corner_cove:
            remedy += ", or a larger radius of the corner coves ('corners')"
        site.findings.error(
            (*self.key, "radius") if radius else ("batter", "slope"),
            f"must fit the {site.body}: {error}",
            f"{size:.3f}{unit}",
            remedy,
        )
