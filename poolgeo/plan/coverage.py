"""Coverage: which regions hold each face, read off their borders and not measured.

Whoever crosses a region's border an odd number of times has gone in or out. So the regions that
hold a face follow from those that hold its neighbour, from the outside (in none) inwards.
"""

from __future__ import annotations

import numpy as np

from ..errors import GeometryError
from .arrangement import Arrangement, components
from .curves import Floats
from .keys import numbered

Ints = np.ndarray


def coverage(
    vertices: Floats, plan: Arrangement, edge: Ints, region: Ints, count: int
) -> np.ndarray:
    """Return which regions hold each face.

    Args:
        vertices: (n, 2) [m].
        plan: The faces.
        edge: (k,) an edge of the plan, for every strand of a border.
        region: (k,) the region that has its border there.
        count: How many regions there are.

    Returns:
        (count, faces + 1) of bools; the last column is the outside.

    Raises:
        GeometryError: Borders contradict each other (lines cross that have not been noded).
    """
    left, right = ends_of(plan)
    pairs, times = np.unique(edge * count + region, return_counts=True)
    odd = pairs[times % 2 == 1]
    masks: dict[int, int] = {}
    for at, bit in zip((odd // count).tolist(), (odd % count).tolist(), strict=True):
        masks[at] = masks.get(at, 0) ^ (1 << bit)
    borders = np.array(sorted(masks), dtype=np.int64)
    open_ = np.ones(len(left), dtype=bool)
    open_[borders] = False
    area = components(plan.count + 1, left[open_], right[open_])
    sides = np.column_stack([area[left[borders]], area[right[borders]]])
    first, _ = numbered(sides[:, 0] * (plan.count + 1) + sides[:, 1])
    beside: dict[int, list[tuple[int, int]]] = {}
    for i in first.tolist():
        a, b = sides[i].tolist()
        mask = masks[int(borders[i])]
        beside.setdefault(a, []).append((b, mask))
        beside.setdefault(b, []).append((a, mask))
    outside = int(area[-1])
    held = {outside: 0}
    queue = [outside]
    for here in queue:
        for there, mask in beside.get(here, []):
            if there not in held:
                held[there] = held[here] ^ mask
                queue.append(there)
    areas, number = np.unique(area, return_inverse=True)
    size = (count + 7) // 8
    rows = b"".join(held.get(item, 0).to_bytes(size, "little") for item in areas.tolist())
    bits = np.unpackbits(
        np.frombuffer(rows, dtype=np.uint8).reshape(-1, size), axis=1, bitorder="little"
    )
    found: np.ndarray = bits[:, :count].astype(bool)[number].T
    at, of = np.divmod(odd, count)
    wrong = found[of, left[at]] == found[of, right[at]]
    if wrong.any():
        raise GeometryError(vertices[plan.edges[at[wrong][0], 0]])
    return found


def ends_of(plan: Arrangement) -> tuple[Ints, Ints]:
    """Return the face on the left and on the right of each edge; the outside comes last."""
    return plan.left % (plan.count + 1), plan.right % (plan.count + 1)
