"""The drawing set of a pool: all its views, where each stands, and the sheets that show them.

The plan stands where the pool file has it, at full size; the other views stand below it, in rows.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from ..design.lengths import Units
from ..jointing.rows import FinishJoints
from ..model import Body, Model
from ..quantities import Takeoff
from ..works import Works
from .details import detail_views
from .developed import developments
from .developed_view import developed_view, strips
from .legend import legend_view, notes, notes_view
from .measuring import says
from .north import titled, with_scale_bar
from .plan_lines import Place, Projection
from .plan_view import BESIDE, body_view, plan_view
from .positions import text_width
from .schedules import schedule_views, schedules
from .section import Section, cut_lines_of, section_of
from .section_view import section_view
from .sheet import UNIT_SYSTEMS, Plot, UnitSystem, plot, scaled
from .sheets import Box, Sheet, Window, arranged, field_of, fits, fitting
from .title_block import block_height, sheet_view
from .view import View

SMALL = 0.160
"""[m] A spa by itself is drawn no wider on paper."""

AROUND = 14.0
"""What dimensions and labels take up beside a section or a wall, in text heights."""

GAP = 8.0
"""Between views, in text heights of the plan."""


@dataclass(frozen=True)
class Standing:
    """A view and where it stands: its origin, in drawing units."""

    view: View
    at: Place = (0.0, 0.0)

    @property
    def reach(self) -> tuple[Place, Place]:
        """The lower left and the upper right corner of what it holds."""
        (left, low), (right, high) = self.view.reach
        x, y = self.at
        return (left + x, low + y), (right + x, high + y)

    def window(self) -> Window:
        """Return the window that shows it."""
        view = self.view
        return Window(view.title, *self.reach, view.ratio, view.scale).padded(view.height)


@dataclass(frozen=True)
class DrawingSet:
    """The drawing set of a pool.

    Args:
        name: Of the pool.
        units: Of its file.
        system: What a drawing in these says of itself.
        plot: How the plan is plotted.
        views: All views, the plan first.
        sheets: With windows on the views.
        frames: What stands on each sheet about its windows [mm].
    """

    name: str
    units: Units
    system: UnitSystem
    plot: Plot
    views: tuple[Standing, ...]
    sheets: tuple[Sheet, ...]
    frames: tuple[View, ...]

    @property
    def reach(self) -> tuple[Place, Place]:
        """The lower left and the upper right corner of all windows on views."""
        windows = [item.window() for item in self.views]
        low = min(item.low[0] for item in windows), min(item.low[1] for item in windows)
        return low, (max(item.high[0] for item in windows), max(item.high[1] for item in windows))


def drawing_set(
    model: Model,
    takeoff: Takeoff,
    joints: FinishJoints | None = None,
    works: Works | None = None,
    system: UnitSystem | None = None,
    taken: tuple[Place, Place] | None = None,
) -> DrawingSet:
    """Draw a pool.

    Args:
        model: The pool.
        takeoff: Measured on it.
        joints: Movement joints of its finish, if any.
        works: Its waterproofing, if any: details are of it.
        system: Units of the drawing; None takes those of the pool file.
        taken: Lower left and upper right corner of what stands there already, in drawing units: all
            but the plan keeps clear of it.

    Returns:
        The set.
    """
    own = system or UNIT_SYSTEMS[model.design.pool.units]
    return _Drafter(model, takeoff, joints, works, own).drawn(taken)


class _Drafter:
    """Lays a set out.

    Args:
        model: The pool.
        takeoff: Measured on it.
        joints: Movement joints of its finish, if any.
        works: Its waterproofing, if any.
        system: Units of the drawing.
    """

    def __init__(
        self, model: Model, takeoff: Takeoff, joints: FinishJoints | None, works: Works | None,
        system: UnitSystem,
    ) -> None:  # fmt: skip
        self._model, self._takeoff, self._joints, self._works = model, takeoff, joints, works
        self._asked = model.design.pool.drawings
        self._units = model.design.pool.units
        self._system = system
        self._per_mm = self._system.projection.per_metre / 1000.0
        self._block = block_height(self._asked)
        self._plot, self._plan = self._planned()
        self._size = self._asked.sheet or fitting(
            self._plot.paper, [Standing(self._plan).window()], self._per_mm, self._block
        )
        self._field: Box = field_of(self._size, self._block)

    def drawn(self, taken: tuple[Place, Place] | None) -> DrawingSet:
        """Return the set, clear of what is taken."""
        groups = dict(self._groups())
        first = self._words([self._plan, *(view for views in groups.values() for view in views)])
        standing = [("Plan", Standing(self._plan))]
        standing += [("Legend and notes", item) for item in self._beside(first, taken)]
        height = self._plan.height
        left, wide = self._plan.reach[0][0], max(item.reach[1][0] for _, item in standing)
        for name, views in groups.items():
            low = min(item.reach[0][1] for _, item in standing) - GAP * height
            placed = in_rows(views, (left, low), wide - left, GAP * height)
            standing += [(name, item) for item in placed]
        pool, sheets = self._model.design.pool, self._sheets(standing)
        frames = [
            sheet_view(sheet, pool.name, self._asked, number, len(sheets))
            for number, sheet in enumerate(sheets, 1)
        ]
        return DrawingSet(
            pool.name, self._units, self._system, self._plot,
            tuple(item for _, item in standing), tuple(sheets), tuple(frames),
        )  # fmt: skip

    def _groups(self) -> Iterator[tuple[str, list[View]]]:
        """Yield all views but the plan, its legend and its notes, group by group."""
        sections, walls = list(self._sections()), list(self._walls())
        spas = [body.name for body in self._model.bodies if body.mark.startswith("S")]
        own = [view for body, view in sections + walls if body in spas]
        yield "Sections", [view for body, view in sections if body not in spas]
        yield "Developed walls", [view for body, view in walls if body not in spas]
        yield "Spas", [*self._spas(), *own]
        yield "Details", list(self._details())
        yield "Schedules", list(self._schedules())

    def _beside(
        self, words: Sequence[View], taken: tuple[Place, Place] | None
    ) -> Iterator[Standing]:
        """Yield legend and notes: beside the plan and under it, or below what is taken."""
        height = self._plan.height
        (left, low), (right, top) = self._plan.reach
        if taken is None:
            yield Standing(words[0], (right + 3.0 * height, top))
            yield Standing(words[1], (left, low - 2.0 * height))
        else:
            below = (left, min(low, taken[0][1]) - GAP * height)
            yield from in_rows(words, below, 4.0 * (right - left), GAP * height)

    def _planned(self) -> tuple[Plot, View]:
        """Return the plan at the largest usual scale at which it fits its sheet."""
        projection = self._system.projection
        concrete = np.concatenate(list(self._model.outlines.values()))
        width, depth = np.ptp(concrete, axis=0).tolist()
        taken = self._takeoff
        numbers = sum(map(len, (taken.edges, taken.coves, taken.fittings)))
        chosen = plot(self._units, width, depth, numbers, self._asked.sheet)
        cuts = list(cut_lines_of(self._model).items())
        while True:
            view = titled(plan_view(self._model, taken, projection, chosen, self._joints, cuts))
            view = with_scale_bar(view, projection, self._units, self._asked.north)
            window = Standing(view).window()
            size = self._asked.sheet or fitting(chosen.paper, [window], self._per_mm, self._block)
            field, need = field_of(size, self._block), window.size(self._per_mm)
            if need[0] <= field.width and need[1] <= field.height:
                return chosen, view
            chosen = scaled(self._units, chosen, chosen.ratio + 1)

    def _sheets(self, views: Iterable[tuple[str, Standing]]) -> list[Sheet]:
        windows = [(group, item.window()) for group, item in views]
        return arranged(windows, self._size, self._per_mm, self._block)

    def _words(self, views: Sequence[View]) -> tuple[View, View]:
        """Return legend and notes; the legend in as many columns as it takes to fit on sheet 1."""
        plotted = replace(self._plot, paper=self._size)
        words = notes(self._model, self._takeoff, self._system, plotted, self._joints)
        said = notes_view(self._model.design.pool.name, words, self._plan)
        tried = [legend_view(views, self._plan, columns) for columns in (1, 2, 3)]
        for legend in tried:
            standing = [("", Standing(view)) for view in (self._plan, legend, said)]
            if len(self._sheets(standing)) == 1:
                return legend, said
        for legend in tried:
            window = Standing(legend).window()
            if fits(window, self._size, self._per_mm, self._block):
                return legend, said
        return tried[-1], said

    def _scaled(self, width: float, height: float, least: float) -> Plot:
        """Return the scale at which something fits on a sheet with what stands about it.

        Args:
            width: Of it [m].
            height: Of it [m].
            least: The scale is 1 : n with n no less than this.
        """
        room = AROUND * self._plot.text / self._plot.ratio
        wide, high = self._field.width / 1000.0 - room, self._field.height / 1000.0 - room
        return scaled(self._units, self._plot, max(least, width / wide, height / high))

    def _fitted(self, laid: Callable[[Plot], View], chosen: Plot) -> View:
        """Return a view with its title, at the largest scale from one on at which it fits.

        Args:
            laid: Lays it out.
            chosen: The scale.
        """
        while True:
            view = titled(laid(chosen))
            window = Standing(view).window()
            if fits(window, self._size, self._per_mm, self._block):
                return view
            chosen = scaled(self._units, self._plot, chosen.ratio + 1)

    def _spas(self) -> Iterator[View]:
        """Yield the plans of spas by themselves."""
        for body in self._model.bodies[1:]:
            if body.mark.startswith("S"):
                outline = self._model.outlines[body.name, "shell"]
                width, height = (np.ptp(outline, axis=0) + 2.0 * BESIDE).tolist()
                chosen = self._scaled(width, height, max(width, height) / SMALL)
                yield self._fitted(partial(self._body, body), chosen)

    def _body(self, body: Body, plot: Plot) -> View:
        """Return the plan of a body of water by itself, at a scale."""
        projection = self._system.projection
        return body_view(self._model, self._takeoff, projection, plot, body, self._joints)

    def _sections(self) -> Iterator[tuple[str, View]]:
        """Yield the sections, each with the one body of water that it cuts, or with the pool."""
        for name, line in cut_lines_of(self._model).items():
            section = section_of(self._model, self._takeoff, name, line)
            if section.concrete.is_empty:
                continue
            wet = [body for body, area in section.water.items() if not area.is_empty]
            body = wet[0] if len(wet) == 1 else "pool"
            left, low, right, high = section.reach
            width = right - left
            least = self._plot.ratio if body == "pool" else width / SMALL
            chosen = self._scaled(width, high - low, min(least, self._plot.ratio))
            yield body, self._fitted(partial(self._cut, section), chosen)

    def _cut(self, section: Section, plot: Plot) -> View:
        """Return a section as a view, at a scale."""
        return section_view(self._model, section, self._system.projection, plot, self._joints)

    def _walls(self) -> Iterator[tuple[str, View]]:
        """Yield the developed walls, strip by strip, with the body that they are of."""
        levels = text_width(says(-9.999, self._units), 1.0)
        room = (AROUND + levels) * self._plot.text / self._plot.ratio
        longest = (self._field.width / 1000.0 - room) * self._plot.ratio
        walls = list(developments(self._model, self._takeoff, self._joints))
        for strip in strips(walls, longest):
            view = developed_view(strip, self._system.projection, self._plot, self._units)
            yield strip.wall.body, titled(view)

    def _details(self) -> Iterator[View]:
        """Yield the typical details."""
        paper_text = self._plot.text / self._plot.ratio
        for view in detail_views(self._model, self._takeoff, self._works, self._joints,
                                 self._system.projection, paper_text):  # fmt: skip
            yield titled(view)

    def _schedules(self) -> Iterator[View]:
        tables = schedules(self._takeoff, self._joints, self._units)
        tallest = self._field.height * self._per_mm * self._plot.ratio
        projection: Projection = self._system.projection
        yield from schedule_views(tables, projection, self._plot, tallest)


def in_rows(views: Iterable[View], corner: Place, wide: float, gap: float) -> Iterator[Standing]:
    """Yield views side by side, in rows under each other.

    Args:
        views: To place.
        corner: Upper left corner of the first row.
        wide: That a row may be; a single view may be wider.
        gap: Between views.
    """
    x, top = corner
    low = top
    for view in views:
        (left, bottom), (right, high) = view.reach
        if x > corner[0] and x + right - left > corner[0] + wide:
            x, top = corner[0], low - gap
        yield Standing(view, (x - left, top - high))
        low = min(low, top - (high - bottom))
        x += right - left + gap
