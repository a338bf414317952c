"""Read single things off a review."""

from __future__ import annotations

from poolgeo.errors import key_text

from .sound import Changes, works_of


def said(changes: Changes, severity: str = "error") -> list[tuple[str, str]]:
    """Return key path and words of what a changed whole is found to be, of one severity."""
    return [
        (key_text(remark.finding.key), f"{remark.finding.rule} ({remark.finding.value})")
        for remark in works_of(changes)[0].remarks
        if remark.finding.severity == severity
    ]


def keys(changes: Changes, severity: str = "error") -> list[str]:
    """Return the key paths alone."""
    return [key for key, _ in said(changes, severity)]
