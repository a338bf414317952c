"""Coverage: which regions hold each face, read off their borders and not measured.

Whoever crosses a region's border an odd number of times has gone in or out. So the regions that
hold a face follow from those that hold its neighbour, from the outside (in none) inwards.
"""

from __future__ import annotations

import numpy as np

from ..arrays import Floats, Ints
from ..errors import GeometryError
from .arrangement import Arrangement, components
from .keys import numbered, pair_keys


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
    on, of = np.divmod(pairs[times % 2 == 1], count)
    begins = np.flatnonzero(np.diff(on, prepend=-1))
    borders, ends = on[begins], [*begins[1:].tolist(), len(on)]
    open_ = np.ones(len(left), dtype=bool)
    open_[borders] = False
    area = components(plan.count + 1, left[open_], right[open_])
    one, other = area[left[borders]], area[right[borders]]
    beside: dict[int, list[tuple[int, int]]] = {}
    # between two areas one border edge tells as much as all
    for i in numbered(pair_keys(one, other, plan.count + 1))[0].tolist():
        mask = sum(1 << bit for bit in of[begins[i] : ends[i]].tolist())
        a, b = int(one[i]), int(other[i])
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
    first, number = numbered(area)
    size = (count + 7) // 8
    rows = b"".join(held.get(item, 0).to_bytes(size, "little") for item in area[first].tolist())
    bits = np.unpackbits(
        np.frombuffer(rows, dtype=np.uint8).reshape(-1, size), axis=1, bitorder="little"
    )
    found: np.ndarray = bits[:, :count].astype(bool)[number].T
    wrong = found[of, left[on]] == found[of, right[on]]
    if wrong.any():
        raise GeometryError(vertices[plan.edges[on[wrong][0], 0]])
    return found


def ends_of(plan: Arrangement) -> tuple[Ints, Ints]:
    """Return the face on the left and on the right of each edge; the outside comes last."""
    return plan.left % (plan.count + 1), plan.right % (plan.count + 1)
