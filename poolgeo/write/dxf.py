"""The drawing: a plan of the pool as DXF.

Model space is at full size in the units of the pool file. `poolgeo.write.layers` says what is on
which layer, `poolgeo.write.sheet` how high text is and what scale that is meant for.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from poolgeo.errors import OutputError
from poolgeo.jointing.rows import FinishJoints
from poolgeo.model import Model
from poolgeo.quantities import Takeoff

from . import layers
from .atomic import whole_file
from .legend import legend_rows, notes
from .pen import Pen
from .plan_lines import Place
from .plan_view import plan_view
from .set_out import dimension_style, set_out
from .sheet import UNIT_SYSTEMS, UnitSystem, plot

if TYPE_CHECKING:
    from ezdxf.document import Drawing

_RELEASE = "R2010"


def write_drawing(
    model: Model,
    takeoff: Takeoff,
    path: str | os.PathLike[str],
    joints: FinishJoints | None = None,
) -> None:
    """Write the plan as DXF (R2010).

    The same pool gives the same bytes: the file carries a fixed date (1 January 2000) and fixed
    identifiers in place of the time of writing. It is read back and audited before it takes its
    name; a file that was there before stays until then.

    Args:
        model: The pool.
        takeoff: What was measured on it; numbers in the drawing are those of its runs.
        path: File to write; its name ends in ``.dxf``.
        joints: Movement joints of its finish, if any, with their set-out dimensions.

    Raises:
        OutputError: The name does not end in ``.dxf``, the file cannot be written, or it did not
            pass the audit.
    """
    if Path(path).suffix.lower() != ".dxf":
        msg = f"'{os.fspath(path)}' must end in .dxf; name another file"
        raise OutputError(msg)
    with whole_file(path) as beside, _fixed_identifiers():
        _document(model, takeoff, joints).saveas(beside)
        _audit(beside, path)


@contextmanager
def _fixed_identifiers() -> Iterator[None]:
    """Have ezdxf write a fixed date and identifiers while the block runs."""
    import ezdxf

    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def _audit(written: Path, path: str | os.PathLike[str]) -> None:
    """Read a drawing back and refuse it where anything in it needs mending.

    Raises:
        OutputError: There is an error in it, or one that a reader would mend.
    """
    import ezdxf

    auditor = ezdxf.readfile(written).audit()
    found = [*auditor.errors, *auditor.fixes]
    if found:
        msg = (
            f"'{os.fspath(path)}' cannot be written: the drawing must be free of faults"
            f" (got {len(found)}: {found[0].message}); please report this with the pool file"
        )
        raise OutputError(msg)


def _document(model: Model, takeoff: Takeoff, joints: FinishJoints | None) -> Drawing:
    """Make the drawing of a pool."""
    system = UNIT_SYSTEMS[model.design.pool.units]
    concrete = np.concatenate(list(model.outlines.values()))
    width, depth = np.ptp(concrete, axis=0).tolist()
    numbers = sum(map(len, (takeoff.edges, takeoff.coves, takeoff.fittings)))
    chosen = plot(model.design.pool.units, width, depth, numbers)
    height = system.projection.length(chosen.text)
    view = plan_view(model, takeoff, system.projection, height, joints)
    document = _empty(system, height)
    pen = Pen(document, height, system.projection.decimals)
    pen.plan(view)
    if joints is not None:
        set_out(pen, joints, system.projection, model.design.pool.units)
    (left, bottom), (right, top) = pen.reach
    pen.legend(legend_rows(view), (right + 3 * height, top))
    pen.title(
        model.design.pool.name,
        notes(model, takeoff, system, chosen, joints),
        (left, bottom - 2 * height),
    )
    _set_view(document, *pen.reach)
    for name in sorted(document.entitydb.dxf_types_in_use()):  # it is a set: its order is chance
        document.classes.add_class(name)
    return document


def _empty(system: UnitSystem, height: float) -> Drawing:
    """Make a drawing with its units, line types and layers, and nothing in it."""
    import ezdxf

    document = ezdxf.new(_RELEASE, units=system.insunits)
    document.header["$LASTSAVEDBY"] = "poolgeo"
    document.header["$MEASUREMENT"] = int(system.metric)
    document.header["$LUNITS"] = 2  # decimal
    document.header["$LUPREC"] = system.projection.decimals
    document.header["$TEXTSIZE"] = height
    document.header["$LTSCALE"] = height  # patterns are in text heights
    document.header["$PSLTSCALE"] = 0  # a view on a layout breaks lines as model space does
    document.header["$LWDISPLAY"] = 1
    dimension_style(document, height)
    for name, (description, pattern) in layers.PATTERNS.items():
        document.linetypes.add(name, pattern, description=description)
    for layer in layers.LAYERS:
        entry = document.layers.add(
            layer.name,
            color=layer.colour,
            linetype=layer.line_type,
            lineweight=layer.weight,
        )
        entry.description = layer.holds
    return document


def _set_view(document: Drawing, low: Place, high: Place) -> None:
    """Have the drawing open on all that is in it."""
    document.modelspace().reset_extents((*low, 0.0), (*high, 0.0))
    width, height = high[0] - low[0], high[1] - low[1]
    centre = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    document.set_modelspace_vport(1.05 * max(height, width / 1.6), centre)
