"""Put the events of a YAML parser together to plain values, refusing what may not stand there.

Refused are anchors and aliases (a few lines of them can stand for gigabytes), tags, keys that are
not text, keys given twice, and a second document. Plain scalars are read as YAML 1.2 reads them,
so that ``1:20``, ``yes`` and ``2024-05-01`` are text. There is no recursion, and depth and size
are limited while reading, so neither can do harm.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any

from yaml.events import (
    AliasEvent,
    CollectionEndEvent,
    CollectionStartEvent,
    DocumentStartEvent,
    Event,
    MappingStartEvent,
    NodeEvent,
    ScalarEvent,
)

from poolgeo.errors import Finding, Key, PoolFileError, shown

DEEPEST = 32
"""Levels of lists and mappings; the schema has six."""
MOST_VALUES = 100_000
"""Values in a file; ten thousand points with bulges take forty thousand."""

_INTEGER = re.compile(r"[-+]?[0-9]{1,40}")
_NUMBER = re.compile(r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?")
_NOT_FINITE = re.compile(r"[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)")
_WORDS: dict[str, bool | None] = {
    **dict.fromkeys(("", "~", "null", "Null", "NULL")),
    **dict.fromkeys(("true", "True", "TRUE"), True),
    **dict.fromkeys(("false", "False", "FALSE"), False),
}

_TEXT_KEYS = "must have keys that are text"
_IN_QUOTES = "put the key in quotes"


def scalar(text: str) -> str | float | bool | None:
    """Read a plain scalar by the core schema of YAML 1.2, without its octals and hexadecimals.

    Args:
        text: The scalar, which stood without quotes.

    Returns:
        The value; text where it is nothing else.

    Example:
        >>> [scalar(text) for text in ("10", "1e3", "1:20", "no", "true", "~")]
        [10, 1000.0, '1:20', 'no', True, None]
    """
    if text in _WORDS:
        return _WORDS[text]
    if _INTEGER.fullmatch(text):
        return int(text)
    if _NUMBER.fullmatch(text):
        return float(text)
    return float(text.replace(".", "", 1)) if _NOT_FINITE.fullmatch(text) else text


@dataclass
class _Level:
    """A mapping or list that is being read.

    Args:
        key: Its key path.
        items: What has been read of it so far.
        kept: False at and below a key that was refused.
        waits: True in a mapping whose next value belongs to ``name``.
        name: That key; None where it was refused.
    """

    key: Key
    items: dict[str, Any] | list[Any]
    kept: bool
    waits: bool = False
    name: str | None = None

    @property
    def at_name(self) -> bool:
        """Whether the next node is a key."""
        return isinstance(self.items, dict) and not self.waits

    def next_key(self) -> Key:
        """Return the key path of the next node."""
        if isinstance(self.items, list):
            return (*self.key, len(self.items))
        return self.key if self.name is None else (*self.key, self.name)


@dataclass
class Tree:
    """A document that grows with every event.

    Args:
        root: What has been read; lists are tuples.
        lines: Key path -> line, counted from 1.
        findings: What was refused.
        unread: Keys whose value is an alias.
        values: Count of values and keys.
    """

    root: object = None
    lines: dict[Key, int] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    unread: set[Key] = field(default_factory=set)
    values: int = 0
    _levels: list[_Level] = field(default_factory=list)
    _documents: int = 0

    def take(self, event: Event) -> None:
        """Take the next event.

        Raises:
            PoolFileError: It begins a second document, or goes too deep or too far.
        """
        if isinstance(event, NodeEvent):
            self._count(event)
        match event:
            case DocumentStartEvent():
                self._documents += 1
                if self._documents > 1:
                    last = Finding(
                        (), "the file must hold one document", "a second", line=_line(event)
                    )
                    raise PoolFileError([*self.findings, last])
            case AliasEvent():
                self._alias(event)
            case ScalarEvent():
                self._refuse_extras(event)
                plain = event.implicit[0]
                self._node(scalar(event.value) if plain else event.value, _line(event))
            case CollectionStartEvent():
                self._refuse_extras(event)
                self._open(event)
            case CollectionEndEvent():
                self._close()

    def _count(self, event: NodeEvent) -> None:
        self.values += 1
        rule = ""
        if self.values > MOST_VALUES:
            rule = f"the file must not hold more than {MOST_VALUES} values"
        elif len(self._levels) >= DEEPEST and isinstance(event, CollectionStartEvent):
            rule = f"the file must not be nested deeper than {DEEPEST} levels"
        if rule:
            raise PoolFileError([*self.findings, Finding((), rule, line=_line(event))])

    def _note(self, rule: str, value: str, remedy: str, event: Event) -> None:
        key = self._levels[-1].next_key() if self._levels else ()
        self._refuse(key, rule, value, remedy, _line(event))

    def _refuse(self, key: Key, rule: str, value: str, remedy: str, line: int) -> None:
        named = rule if key else f"the file {rule}"
        self.findings.append(Finding(key, named, value, remedy, line=line))

    def _refuse_extras(self, event: ScalarEvent | CollectionStartEvent) -> None:
        if event.anchor is not None:
            self._note("must not carry an anchor", shown(f"&{event.anchor}"), "leave it out", event)
        if event.tag is not None:
            self._note("must not carry a tag", shown(event.tag), "leave it out", event)

    def _alias(self, event: AliasEvent) -> None:
        came = shown(f"*{event.anchor}")
        self._note("must not be an alias", came, "write the value itself", event)
        level = self._levels[-1] if self._levels else None
        if level is None or not level.at_name:
            self.unread.add(level.next_key() if level else ())
            self._node(None, _line(event))
        else:
            level.waits, level.name = True, None

    def _node(self, value: object, line: int) -> None:
        """Take a scalar: a key or a value."""
        if not self._levels:
            self.root, self.lines[()] = value, line
        elif self._levels[-1].at_name:
            self._name(self._levels[-1], value, line)
        else:
            self._place(line)
            self._put(value)

    def _name(self, level: _Level, name: object, line: int) -> None:
        level.waits, level.name = True, None
        if not isinstance(name, str):
            self._refuse(level.key, _TEXT_KEYS, shown(name), _IN_QUOTES, line)
        elif name in level.items:
            first = self.lines.get((*level.key, name))
            rule, came = "must stand once", "a second one"
            remedy = f"leave out one of the two; the first stands on line {first}"
            self._refuse((*level.key, name), rule, came, remedy, line)
        else:
            level.name = name
            if level.kept:
                self.lines[*level.key, name] = line

    def _open(self, event: CollectionStartEvent) -> None:
        """Take the start of a mapping or list."""
        items: dict[str, Any] | list[Any] = {} if isinstance(event, MappingStartEvent) else []
        if not self._levels:
            self.lines[()] = _line(event)
            self._levels.append(_Level((), items, kept=True))
            return
        level = self._levels[-1]
        if level.at_name:
            self._note(_TEXT_KEYS, "a list or mapping", _IN_QUOTES, event)
        kept = level.kept and (isinstance(level.items, list) or level.name is not None)
        self._place(_line(event))
        self._levels.append(_Level(level.next_key(), items, kept))

    def _close(self) -> None:
        items = self._levels.pop().items
        value = tuple(items) if isinstance(items, list) else items
        if not self._levels:
            self.root = value
        elif self._levels[-1].at_name:  # It was a key, and has been refused.
            self._levels[-1].waits = True
        else:
            self._put(value)

    def _place(self, line: int) -> None:
        """Note the line of a list's next item."""
        level = self._levels[-1]
        if level.kept and isinstance(level.items, list):
            self.lines[level.next_key()] = line

    def _put(self, value: object) -> None:
        """Put a value into the mapping or list that stands open."""
        level = self._levels[-1]
        if isinstance(level.items, list):
            level.items.append(value)
        else:
            if level.name is not None:
                level.items[level.name] = value
            level.waits, level.name = False, None


def _line(event: Event) -> int:
    return 1 if event.start_mark is None else event.start_mark.line + 1
