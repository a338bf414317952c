"""Associations: dimensions that follow the lines that they measure.

Source: DXF reference, objects, DIMASSOC; an object of it stands in the dictionary of the dimension,
and the lines name it as one that has to know when they change.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..drawing.plan_lines import Place

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.entities.dimension import Dimension
    from ezdxf.entities.lwpolyline import LWPolyline

END_POINT, EDGE = 1, 2
"""Kind of point that is snapped to, and what of the line it is of."""


@dataclass(frozen=True)
class Hold:
    """A point of a line that a dimension holds on to.

    Args:
        line: The line.
        segment: Of it, from 1 on, that ends there.
        place: Of the point.
    """

    line: LWPolyline
    segment: int
    place: Place


def associate(document: Drawing, dimension: Dimension, holds: Sequence[Hold]) -> None:
    """Tie a dimension to the points that it measures between.

    Args:
        document: That they are in.
        dimension: From place to place.
        holds: The first and the second of its points.
    """
    from ezdxf.entities.dxfentity import DXFTagStorage
    from ezdxf.lldxf.extendedtags import ExtendedTags

    dictionary = dimension.new_extension_dict().dictionary
    handle, owner = document.entitydb.next_handle(), dictionary.dxf.handle
    tags = [(0, "DIMASSOC"), (5, handle), (102, "{ACAD_REACTORS"), (330, owner), (102, "}"),
            (330, owner), (100, "AcDbDimAssoc"), (330, dimension.dxf.handle),
            (90, (1 << len(holds)) - 1), (70, 0), (71, 0)]  # fmt: skip
    for hold in holds:
        x, y = hold.place
        tags += [(1, "AcDbOsnapPointRef"), (72, END_POINT), (331, hold.line.dxf.handle),
                 (73, EDGE), (91, hold.segment), (301, ""), (40, 0.0), (10, x), (20, y),
                 (30, 0.0), (75, 0)]  # fmt: skip
        hold.line.append_reactor_handle(handle)
    text = "".join(f"{code}\n{value}\n" for code, value in tags)
    made = DXFTagStorage.load(ExtendedTags.from_text(text), document)
    document.entitydb.add(made)
    # ezdxf's own types know no objects that it has only the tags of
    document.objects.add_object(made)  # type: ignore[arg-type]
    dictionary["ACAD_DIMASSOC"] = made  # type: ignore[assignment]
