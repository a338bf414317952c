"""What the documents say is so. Run as a program, this file renews the README's command table."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from importlib.metadata import entry_points
from pathlib import Path
from typing import Any

import click
import pytest
from click.testing import Result

import poolgeo

ROOT = Path(__file__).resolve().parent.parent
TABLE = re.compile(r"(?<=<!-- commands: ).*?(?=<!-- end of commands -->)", re.DOTALL)


def readme() -> str:
    """Return the text of the README."""
    return (ROOT / "README.md").read_text()


def blocks(language: str) -> list[str]:
    """Return the README's fenced blocks in one language."""
    return re.findall(rf"^```{language}\n(.*?)^```$", readme(), re.DOTALL | re.MULTILINE)


def usage(command: click.Command, name: str) -> str:
    """Return how a command is called: ``poolgeo check FILE``."""
    context = click.Context(command, info_name=name)
    words = [f"poolgeo {name}"]
    for parameter in command.params:
        if isinstance(parameter, click.Option):
            flag = parameter.opts[0]
            word = flag if parameter.is_flag else f"{flag} {parameter.make_metavar(context)}"
            words.append(word if parameter.required else f"[{word}]")
        else:
            words.append(parameter.make_metavar(context))
    return " ".join(words)


def command_table(group: click.Group) -> str:
    """Return the README's table of commands, made from their help."""
    rows = ["| command | what it does |", "|---|---|"]
    for name, command in group.commands.items():
        call = usage(command, name).replace("|", "\\|")
        rows.append(f"| `{call}` | {command.get_short_help_str(200)} |")
    head = "made from the commands' own help by `python tests/test_docs.py` -->"
    return "\n".join([head, *rows, ""])


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty working folder that has the samples."""
    shutil.copytree(ROOT / "samples", tmp_path / "samples")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_every_command_and_option_has_help(command: click.Group) -> None:
    for name, one in command.commands.items():
        assert one.help, name
        for parameter in one.params:
            assert isinstance(parameter, click.Argument) or parameter.help, (name, parameter.name)


def test_the_readme_has_the_command_table(command: click.Group) -> None:
    found = TABLE.search(readme())
    assert found is not None
    assert found[0] == command_table(command), "run: python tests/test_docs.py"


def test_the_readme_console_lines_run(folder: Path, poolgeo_run: Callable[..., Result]) -> None:
    lines = [line for block in blocks("console") for line in block.splitlines()]
    assert lines
    for line in lines:
        assert line.startswith("$ poolgeo "), line
        result = poolgeo_run(*line.split()[2:])
        assert result.exit_code == 0, f"{line}\n{result.output}"
    assert {path.name for path in folder.iterdir()} > {"my.yaml", "my.csv", "my.dxf", "my.glb"}


def keys_of(text: str) -> dict[str, str]:
    """Split a pool file into what stands under each of its outermost keys."""
    found = re.split(r"^(?=\w)", text, flags=re.MULTILINE)
    return {part.partition(":")[0]: part for part in found if part.strip()}


def test_the_readme_pool_files_build_without_a_warning(
    folder: Path, poolgeo_run: Callable[..., Result]
) -> None:
    """The first is a whole pool; what the others hold takes the place of its keys."""
    whole, *more = map(keys_of, blocks("yaml"))
    assert len(more) >= 6
    for other in [{}, *more]:
        (folder / "readme.yaml").write_text("".join((whole | other).values()))
        result = poolgeo_run("check", "readme.yaml")
        warned = [line for line in result.stderr.splitlines() if ": note: " not in line]
        assert (result.exit_code, warned) == (0, []), list(other)


def test_the_readme_python_runs(folder: Path) -> None:
    (code,) = blocks("python")
    values: dict[str, object] = {}
    exec(compile(code, "README.md", "exec"), values)  # noqa: S102 - the README is ours
    assert (folder / "pool.glb").stat().st_size > 0
    assert {"design", "model", "takeoff"} <= values.keys()


def told_of(section: str) -> dict[str, list[str]]:
    """Return the words of each row of a table by what its first cell names; it may name two."""
    rows = re.findall(r"^\| ((?:`\w+`(?:, )?)+) \| (.*) \|$", section, re.MULTILINE)
    return {
        key: re.findall(r"`(\w+)`", text)
        for keys, text in rows
        for key in re.findall(r"`(\w+)`", keys)
    }


def test_the_readme_json_contract_is_what_as_dict_gives() -> None:
    section = readme().partition("### The JSON contract")[2].partition("\n## ")[0]
    told = told_of(section.partition("With a system")[0])
    seen = {key: set[str]() for key in told}
    for name in ("freeform-spa", "long-course", "shell", "corners"):
        pool = poolgeo.load(ROOT / "samples" / f"{name}.yaml")
        found = poolgeo.measure(poolgeo.build(pool)).as_dict()
        assert list(told) == list(found)
        for key, value in found.items():
            for row in value if isinstance(value, list) else by_body(value):
                names = list(row) if isinstance(row, dict) else []
                assert [item for item in told[key] if item in names] == names, (name, key)
                seen[key].update(names)
    assert {key: set(names) for key, names in told.items()} == seen


def test_the_readme_tells_what_the_json_has_of_a_system() -> None:
    section = readme().partition("With a system (")[2].partition("With finishes")[0]
    told = told_of(section)
    model = poolgeo.build(poolgeo.load(ROOT / "samples" / "cold-pool.yaml"))
    found = poolgeo.waterproof(model, poolgeo.measure(model)).as_dict()
    assert set(told) == set(found)
    for key, value in found.items():
        rows = [row for row in (value if isinstance(value, list) else by_body(value))
                if isinstance(row, dict)] if not isinstance(value, str) else []  # fmt: skip
        seen = {name for row in rows for name in row}
        assert seen == set(told[key]), key


def by_body(value: dict[str, Any]) -> list[Any]:
    """Return the rows of a table that has one for each body; the table itself if it has not."""
    rows = list(value.values())
    return rows if all(isinstance(row, dict) for row in rows) else [value]


def test_the_readme_names_every_sample() -> None:
    named = set(re.findall(r"`samples/([\w-]+\.yaml)`", readme()))
    assert named == {path.name for path in (ROOT / "samples").glob("*.yaml")}


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md", "CHANGELOG.md"])
def test_links_and_code_paths_lead_somewhere(name: str) -> None:
    text = (ROOT / name).read_text()
    links = re.findall(r"\]\(([^)#]+)\)", text)
    paths = re.findall(r"`((?:poolgeo|cli|samples|tests|\.ci)/[\w./-]*)`", text)
    for target in [*links, *paths]:
        assert (ROOT / target).exists(), target


def renew_readme() -> None:
    """Write the command table into the README."""
    (script,) = entry_points(group="console_scripts", name="poolgeo")
    text = TABLE.sub(lambda _: command_table(script.load()), readme())
    (ROOT / "README.md").write_text(text)


if __name__ == "__main__":
    renew_readme()


def test_the_readme_tells_what_the_json_has_of_a_finish() -> None:
    section = readme().partition("With finishes or movement joints (")[2].partition("\n## ")[0]
    told = told_of(section)
    model = poolgeo.build(poolgeo.load(ROOT / "samples" / "training-pool.yaml"))
    finishing = poolgeo.finish(model, poolgeo.measure(model))
    found = finishing.as_dict()
    assert {key: set(names) for key, names in told.items()} == {
        key: set(value) for key, value in found.items()
    }
    joint = finishing.joint_dicts()[0]
    more = {"joint", "holds", "at_m", "needed_m", "sealant_depth_m", "rod_m"}
    assert more <= set(joint)
    assert all(f"`{name}`" in section for name in more)
