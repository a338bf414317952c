"""The drawing sets of all samples, each made once, and what stands in their files."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import ezdxf
import shapely
from ezdxf.document import Drawing

import poolgeo
from poolgeo.design.layer_table import LayerTable, layer_table
from poolgeo.drawing.drawing_set import DrawingSet, Standing, drawing_set
from poolgeo.jointing.joints import finish_joints
from poolgeo.jointing.rows import FinishJoints
from poolgeo.model import Model
from poolgeo.quantities import Takeoff
from poolgeo.works import job_of, waterproof
from poolgeo.write.dxf import Release, write_drawing

SAMPLES = Path(__file__).resolve().parents[1] / "samples"

NAMES = sorted(path.stem for path in SAMPLES.glob("*.yaml"))


@dataclass(frozen=True)
class Sample:
    """A sample, drawn as the command draws it.

    Args:
        model: The pool.
        takeoff: Measured on it.
        joints: Movement joints of its finish, if any.
        drawn: Its drawing set.
        table: Layers.
    """

    model: Model
    takeoff: Takeoff
    joints: FinishJoints | None
    drawn: DrawingSet
    table: LayerTable

    @property
    def plan(self) -> Standing:
        """The view of the whole pool from above."""
        return next(item for item in self.drawn.views if item.view.name == "plan")

    @property
    def per_metre(self) -> float:
        """Drawing units in a metre."""
        return self.drawn.system.projection.per_metre


@cache
def sample(name: str) -> Sample:
    """Draw a sample."""
    model = poolgeo.build(poolgeo.load(SAMPLES / f"{name}.yaml"))
    takeoff = poolgeo.measure(model)
    joints, job = finish_joints(model, takeoff), job_of(model.design, None)
    works = None if job is None else waterproof(model, takeoff, job)
    table = layer_table(model.design.pool.drawings.layers, SAMPLES)
    drawn = drawing_set(model, takeoff, joints, works)
    return Sample(model, takeoff, joints, drawn, table)


@cache
def file_of(name: str, release: Release = "R2010") -> bytes:
    """Return the bytes of a sample's drawing."""
    return written(sample(name), release)


def written(found: Sample, release: Release = "R2010") -> bytes:
    """Write a drawing set and return the file's bytes."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "pool.dxf"
        write_drawing(found.drawn, found.table, path, release)
        return path.read_bytes()


@cache
def document(name: str) -> Drawing:
    """Return a sample's drawing as it is read back."""
    return ezdxf.read(io.StringIO(file_of(name).decode()))


def overlaps(boxes: list[shapely.Geometry], share: float = 1e-6) -> Iterator[tuple[int, int]]:
    """Yield the numbers of areas that lie on each other by more than a share of the smaller one."""
    tree = shapely.STRtree(boxes)
    for one, other in zip(*tree.query(boxes, predicate="intersects").tolist(), strict=True):
        least = min(boxes[one].area, boxes[other].area)
        if one < other and boxes[one].intersection(boxes[other]).area > share * least:
            yield one, other
