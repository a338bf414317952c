"""Which values of a design nobody wrote down."""

from __future__ import annotations

from collections.abc import Iterator

from poolgeo.errors import Key, shown

from .lengths import format_length
from .schema import Part, Pool
from .spots import peeled
from .values import Form, WhenLeftOut

Default = tuple[Key, object, str]
"""Key path, value (SI), and the value as text in the file's units."""

SHORT = 0.01
"""[m] Lengths below this are written in millimetres whatever the units, for a sixteenth of an
inch says little about them."""


def defaults_of(pool: Pool) -> tuple[Default, ...]:
    """List the defaults that a pool takes, in the order of the schema.

    Args:
        pool: A whole pool file.

    Returns:
        Key path, value [m, deg, -] and text of each; parts that were not given are one entry
        (``spa``: ``none``), but for the shell, whose values hold in any case.
    """
    return tuple(_walk(pool, (), pool.units))


def _walk(part: Part, key: Key, units: str) -> Iterator[Default]:
    for name, field in type(part).model_fields.items():
        value = getattr(part, name)
        here = (*key, name)
        if isinstance(value, Part):
            yield from _walk(value, here, units)
        elif name in part.model_fields_set:
            entries = value if isinstance(value, tuple) else ()
            for index, entry in enumerate(entries):
                if isinstance(entry, Part):
                    yield from _walk(entry, (*here, index), units)
        else:
            _, form = peeled(field.annotation, field.metadata)
            left_out = [note.text for note in field.metadata if isinstance(note, WhenLeftOut)]
            if value is not None or left_out:
                yield here, value, left_out[0] if left_out else _text(value, form, units)


OTHERS = {
    "angle": ("degrees", 1.0),
    "temperature": ("C", 1.0),
    "expansion": ("um/m/K", 1e-6),
    "share": ("%", 0.01),
}
"""Quantities other than lengths: how they are written, and how large one is."""


def _text(value: object, form: Form | None, units: str) -> str:
    if isinstance(value, tuple):
        texts = ", ".join(_text(entry, form, units) for entry in value)
        return f"[{texts}]" if texts else "none"
    if form is None or not isinstance(value, float):
        return shown(value) if isinstance(value, bool) else str(value)
    if form.quantity in OTHERS:
        unit, size = OTHERS[form.quantity]
        return f"{value / size:g} {unit}"
    if form.quantity and 0 < abs(value) < SHORT:
        return f"{value * 1000:g} mm"
    return format_length(value, units) if form.quantity else f"{value:g}"
