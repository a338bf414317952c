"""Say in the pool file's own words what the schema refused."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any, get_args

from poolgeo.errors import LONGEST_SHOWN, BadValueError, Finding, Key, shown

from .guess import guess_of, guess_or_known
from .schema import Part, Pool
from .spots import Spot, one_of, spot_of, tag_key


def explain(
    errors: Iterable[Mapping[str, Any]], document: object, root: type[Part] = Pool
) -> list[Finding]:
    """Turn the errors of the schema's checker into findings.

    Args:
        errors: As ``pydantic.ValidationError.errors()`` lists them.
        document: The values that were checked: dict, tuple and scalars.
        root: What the file as a whole is.

    Returns:
        One finding for each thing wrong, without its place in a file.
    """
    findings: dict[Finding, None] = {}  # A dict keeps the order and drops repetitions.
    for error in errors:
        finding = _finding(error, document, root)
        if finding is not None:
            findings[finding] = None
    return list(findings)


def _finding(error: Mapping[str, Any], document: object, root: type[Part]) -> Finding | None:
    path, kind, context = error["loc"], error["type"], error.get("ctx", {})
    if kind == "missing":
        if isinstance(path[-1], str):
            return _missing(spot_of(path, root))
        path = path[:-1]  # A coordinate is missing: it is the point that is wrong.
    if path[-1:] == ("[key]",) and kind == "literal_error":
        known = re.findall(r"'([^']+)'", context.get("expected", ""))
        remedy = guess_or_known(str(path[-2]), known)
        return Finding(path[:-2], "must have known names", shown(path[-2]), remedy)
    if path[-1:] == ("[key]",):
        return Finding(path[:-2], "must have names of 1 to 100 characters", shown(path[-2]))
    return _refused(kind, spot_of(path, root), document, context)


def _refused(kind: str, spot: Spot, document: object, context: Mapping[str, Any]) -> Finding | None:
    """Say what is wrong with a value that is there."""
    value = _value(document, spot.key)
    cause = context.get("error")
    if isinstance(cause, BadValueError):
        return Finding(spot.key, cause.rule, cause.value, cause.remedy)
    match kind:
        case "extra_forbidden":
            return _unknown(spot)
        case "union_tag_not_found":
            return _missing(Spot((*spot.key, tag_key(spot.hint)), spot.hint, None, spot.part))
        case "union_tag_invalid" if isinstance(value, dict):
            tag = tag_key(spot.hint)
            return _no_choice((*spot.key, tag), value[tag], spot.members)
        case "literal_error":
            return _no_choice(spot.key, value, get_args(spot.hint))
        case "too_short" | "too_long" if isinstance(value, tuple | dict) and spot.form is None:
            return _count(spot, len(value), context)
        case "greater_than_equal" if spot.form is None:
            return Finding(spot.key, f"must be at least {context['ge']:g}", shown(value))
        case "less_than_equal" if spot.form is None:
            return Finding(spot.key, f"must be at most {context['le']:g}", shown(value))
    remedy = "put it in quotes" if spot.hint is str and isinstance(value, int | float) else ""
    return Finding(spot.key, f"must be {spot.accepted}", shown(value), remedy)


def _missing(spot: Spot) -> Finding:
    if spot.members and spot.key[-1] == tag_key(spot.hint):
        return Finding(spot.key, "must be given", remedy=f"write {one_of(spot.members)}")
    description = spot.part.model_fields[str(spot.key[-1])].description or ""
    meaning = f" ({description[0].lower()}{description[1:].rstrip('.')})" if description else ""
    return Finding(spot.key, "must be given", remedy=f"write {spot.accepted}{meaning}")


def _unknown(spot: Spot) -> Finding:
    known = list(spot.part.model_fields)
    guess = _guess(spot.key[-1], known)
    rule = "must be a key that is known here"
    return Finding(spot.key, rule, remedy=guess or f"keys allowed here: {', '.join(known)}")


def _no_choice(key: Key, value: object, choices: Iterable[object]) -> Finding:
    names = [str(choice) for choice in choices]
    return Finding(key, f"must be {one_of(names)}", shown(value), _guess(value, names))


def _guess(value: object, names: list[str]) -> str:
    if not isinstance(value, str):
        return ""
    return guess_of(value[:LONGEST_SHOWN].lower(), names)


def _count(spot: Spot, count: int, context: Mapping[str, Any]) -> Finding | None:
    """Say that a list is too short or too long; None when only its refused entries made it so."""
    least, most = context.get("min_length", 0), context.get("max_length")
    if count < least:
        return Finding(spot.key, f"must have at least {least} entries", str(count))
    if most is not None and count > most:
        return Finding(spot.key, f"must have at most {most} entries", str(count))
    return None


def _value(document: object, key: Key) -> object:
    """Return the value at a key path; None where there is none."""
    for step in key:
        if isinstance(document, dict):
            document = document.get(step)
        elif isinstance(document, tuple) and isinstance(step, int) and step < len(document):
            document = document[step]
        else:
            return None
    return document
