"""``poolgeo schema``: the pool file's JSON Schema."""

from __future__ import annotations

import json
from pathlib import Path

import click

from .options import output
from .stages import hand_out


@click.command()
@output(".json", required=False)
def schema(output: Path | None) -> None:
    """Write the pool file's JSON Schema, for editors and checkers."""
    from poolgeo.design.starter import json_schema

    hand_out(json.dumps(json_schema(), indent=2) + "\n", output)
