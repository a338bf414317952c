"""What a pool takes as usual that its owner pays for."""

from __future__ import annotations

from ...design import schema
from ...errors import Findings


def check_thickness(pool: schema.Pool, findings: Findings) -> None:
    """Warn where nobody gave the thickness of the concrete, whose volume hangs on it."""
    shell = pool.shell
    taken = [
        f"{name} {size:.3f} m"
        for name, size in (("wall", shell.wall), ("floor", shell.floor))
        if name not in shell.model_fields_set
    ]
    if taken:
        findings.warn(
            ("shell",),
            "does not give how thick the concrete is: taken as common practice, no source",
            ", ".join(taken),
            "give 'wall' and 'floor' as they are to be built",
        )
