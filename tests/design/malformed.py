"""Pool files that must be refused, as data: what is in them, and the words that say what is wrong.

Those of the stage ``file`` are refused when the file is read; those of the stage ``build`` are
well-formed, and it takes the geometry to see that no such pool can be made. Both must also be
answered by ``poolgeo check`` with exit code 1 and these words. Those of the stage ``warning`` can
be built after a fashion: exit code 0, and the words stand in warnings.
"""

from __future__ import annotations

from .malformed_builds import DOUBTFUL, FITTINGS, FLOORS, OUTLINES, SPAS
from .malformed_documents import DOCUMENTS, FILES
from .malformed_lengths import LENGTHS
from .malformed_making import Malformed
from .malformed_shells import SHELLS
from .malformed_steps import LEDGES, RULES, STEPS
from .malformed_values import KEYS, PARTS

CASES: tuple[Malformed, ...] = (
    *FILES,
    *DOCUMENTS,
    *KEYS,
    *LENGTHS,
    *PARTS,
    *OUTLINES,
    *FLOORS,
    *FITTINGS,
    *SPAS,
    *STEPS,
    *LEDGES,
    *RULES,
    *DOUBTFUL,
    *SHELLS,
)
"""All of them, each ``id`` once."""
