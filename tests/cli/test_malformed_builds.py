"""Every malformed pool file answers in findings through the command, never with a traceback."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import Result

from ..design.malformed import CASES
from ..design.malformed_making import Malformed


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.id)
def test_check_answers_in_findings(
    case: Malformed, tmp_path: Path, poolgeo_run: Callable[..., Result]
) -> None:
    """``poolgeo check`` says what is wrong and exits with 1, or warns and exits with 0."""
    result = poolgeo_run("check", case.write(tmp_path))
    assert result.exit_code == (0 if case.stage == "warning" else 1)
    for words in case.words:
        assert words in result.stderr
    assert "Traceback" not in result.stderr
