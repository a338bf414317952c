"""Pools that random tests found hold every fact now, or are refused in words."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from .test_pools import check

FOUND: list[dict[str, Any]] = yaml.safe_load(
    (Path(__file__).parent / "found.yaml").read_text(encoding="utf-8")
)


@pytest.mark.parametrize("found", FOUND, ids=lambda found: found["file"]["name"])
def test_a_pool_that_was_found(found: dict[str, Any]) -> None:
    assert check(found["file"]) == found["is"], found["was"]
