"""``poolgeo schema``: the JSON Schemas of files."""

from __future__ import annotations

import json
from pathlib import Path

import click

from .options import output
from .stages import hand_out


@click.command()
@click.option(
    "--of",
    type=click.Choice(["pool", "system", "method", "requirements", "joint-rules", "layer-table"]),
    default="pool",
    show_default=True,
    help="Which file's.",
)
@output(".json", required=False)
def schema(of: str, output: Path | None) -> None:
    """Write a file's JSON Schema, for editors and checkers."""
    from poolgeo.schemas import json_schema

    hand_out(json.dumps(json_schema(of), indent=2) + "\n", output)
