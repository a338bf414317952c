"""Where a value stands in the schema, and what may be written there.

The schema's checker names a place by a path through types, the tags of unions among them. Here
that path is followed, which gives the key path that a reader knows.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import Tag

from poolgeo.errors import Key

from .schema import Part, Pool
from .values import Form

PLAIN = {bool: "true or false", int: "a whole number", float: "a number", str: "text"}
"""What may be written for a plain type that no note describes."""


@dataclass(frozen=True)
class Spot:
    """A place in the schema.

    Args:
        key: Its key path in the pool file.
        hint: The type there, without notes; None for a key that the schema does not know.
        form: What may be written there, where a note says so.
        part: The part of the pool file that holds it.
    """

    key: Key
    hint: Any
    form: Form | None
    part: type[Part]

    @property
    def accepted(self) -> str:
        """What may be written here, as a noun phrase."""
        return _accepted(self.hint, self.form)

    @property
    def members(self) -> dict[str, Any]:
        """The types of a union by their tag; empty where there is no union."""
        return _members(self.hint)

    def into(self, step: str | int) -> Spot:
        """Go one step on: to a key, an entry of a list, or a member of a union."""
        if members := self.members:
            hint, form = peeled(members[str(step)])
            return Spot(self.key, hint, self.form or form, self.part)
        key = (*self.key, step)
        if is_part(self.hint):
            field = self.hint.model_fields.get(str(step))
            hint, form = (None, None) if field is None else peeled(field.annotation, field.metadata)
            return Spot(key, hint, form, self.hint)
        arguments = get_args(self.hint)
        if get_origin(self.hint) is dict:
            hint, form = peeled(arguments[1])
            return Spot(key, hint, form, self.part)
        hint, form = peeled(arguments[0 if arguments[-1] is ... else int(step)])
        return Spot(key, hint, form, self.part)


def spot_of(path: Iterable[str | int], root: type[Part] = Pool) -> Spot:
    """Follow a path of the schema's checker.

    Args:
        path: Keys, indices and tags, from the file as a whole.
        root: What the file as a whole is.

    Returns:
        The place.

    Example:
        >>> spot_of(("steps", 0, "end", "going")).key
        ('steps', 0, 'going')
    """
    spot = Spot((), root, None, root)
    for step in path:
        spot = spot.into(step)
    return spot


def peeled(hint: Any, notes: Iterable[object] = ()) -> tuple[Any, Form | None]:
    """Take the notes and the None off a type hint.

    Args:
        hint: A type hint such as ``Annotated[float, Form("a length")] | None``.
        notes: Notes that were taken off before.

    Returns:
        The bare type, and the outermost `Form` among its notes.
    """
    forms = [note for note in notes if isinstance(note, Form)]
    while True:
        if get_origin(hint) is Annotated:
            hint, *more = get_args(hint)
            forms += [note for note in more if isinstance(note, Form)]
        elif len(given := _given(hint)) == 1:
            (hint,) = given
        else:
            return hint, forms[0] if forms else None


def is_part(hint: object) -> bool:
    """Whether a type is a part of the pool file."""
    return isinstance(hint, type) and issubclass(hint, Part)


def one_of(names: Iterable[object]) -> str:
    """Write the choices: ``one of mm, m, ft, in``; or the only one."""
    every = [str(name) for name in names]
    return f"one of {', '.join(every)}" if len(every) > 1 else "".join(every)


def _given(hint: Any) -> list[Any]:
    """List the members of a union but for None."""
    if get_origin(hint) not in {Union, UnionType}:
        return []
    return [member for member in get_args(hint) if member is not NoneType]


def _members(hint: Any) -> dict[str, Any]:
    found = {}
    for member in _given(hint):
        tags = [note.tag for note in get_args(member) if isinstance(note, Tag)]
        found[tags[0] if tags else _tag_of(member)[1]] = member
    return found


def tag_key(hint: Any) -> str:
    """Return the key that tells the members of a union of parts from each other; else nothing."""
    first = next(iter(_given(hint)), None)
    return _tag_of(first)[0] if first is not None and is_part(first) else ""


def _tag_of(part: type[Part]) -> tuple[str, str]:
    """Return the key by which a union knows a part, and its value there: its one literal."""
    for key, item in part.model_fields.items():
        if get_origin(item.annotation) is Literal and len(get_args(item.annotation)) == 1:
            return key, str(get_args(item.annotation)[0])
    raise TypeError(part)


def _accepted(hint: Any, form: Form | None = None) -> str:
    if form is not None:
        return form.text
    if get_origin(hint) is Literal:
        return one_of(get_args(hint))
    if is_part(hint):
        return f"a mapping with the keys {', '.join(hint.model_fields)}"
    if members := _members(hint):
        return f"a mapping with a '{tag_key(hint)}', {one_of(members)}"
    if hint in PLAIN:
        return PLAIN[hint]
    if get_origin(hint) is dict:
        return f"a mapping of names, each {_accepted(*peeled(get_args(hint)[1]))}"
    return f"a list, each entry {_accepted(*peeled(get_args(hint)[0]))}"
