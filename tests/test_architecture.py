"""Data goes one way, and nothing heavy loads before it is needed."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent

STAGES = (
    "errors", "arrays", "solver", "design", "mesh", "placed", "sections", "arris", "quantities",
    "plan", "model", "surface", "fittings", "layout", "measure", "builder", "system", "schemas",
    "detailing", "rolls", "supply", "bill", "review", "works", "jointing", "finishing",
    "drawing", "write",
)  # fmt: skip
"""Modules and folders of the library; each may import itself and what stands to its left."""

HEAVY = {"ezdxf", "pyvista", "reportlab", "rich", "scipy", "trimesh", "vtk"}
"""Packages that cost more than 50 ms to import and that only some commands need."""

BASES = {"poolgeo/write/paper.py": {"ezdxf"}}
"""Modules whose classes have classes of heavy packages as their bases."""

LIBRARY = sorted((ROOT / "poolgeo").rglob("*.py"))
FEATURES = sorted((ROOT / "poolgeo" / "plan" / "features").glob("*.py"))
COMMANDS = sorted((ROOT / "cli").rglob("*.py"))


def module_name(path: Path) -> str:
    """Return the dotted name of a library file, ``poolgeo.plan.region``."""
    return ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")


def imported(tree: ast.AST, package: str) -> Iterator[str]:
    """Yield the dotted name of everything that a syntax tree imports, at any depth."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = package.split(".")[: len(package.split(".")) - node.level + 1]
            head = ".".join([*base, *filter(None, [node.module])]) if node.level else node.module
            yield from (f"{head}.{alias.name}" for alias in node.names)


def against_the_flow(source: str, module: str, *, is_package: bool = False) -> list[str]:
    """List the imports of a library module that point to a later stage or to the command line.

    Args:
        source: The module's text.
        module: Its dotted name.
        is_package: True for an ``__init__.py``.
    """
    package = module if is_package else module.rpartition(".")[0]
    own = STAGES.index(module.split(".")[1])
    wrong = []
    for name in imported(ast.parse(source), package):
        parts = name.split(".")
        if parts[0] in {"cli", "poolgeo_cli"} or (
            parts[0] == "poolgeo" and parts[1] in STAGES and STAGES.index(parts[1]) > own
        ):
            wrong.append(name)
    return wrong


def at_the_top(source: str) -> set[str]:
    """Return the top-level names of the packages that importing a module imports."""
    tree = ast.parse(source)
    names: set[str] = set()
    waiting: list[ast.AST] = [tree]
    while waiting:
        node = waiting.pop()
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda):
            continue
        if isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING":
            waiting += node.orelse
            continue
        if isinstance(node, ast.Import):
            names |= {alias.name.partition(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and not node.level and node.module:
            names.add(node.module.partition(".")[0])
        waiting += ast.iter_child_nodes(node)
    return names


def loaded_by(code: str) -> set[str]:
    """Return the names of the modules that are loaded once ``code`` has run in a new Python."""
    text = f"import sys\n{code}\nprint(*sys.modules, sep='\\n', file=sys.stderr)"
    done = subprocess.run(
        [sys.executable, "-c", text], capture_output=True, text=True, check=True, cwd=ROOT
    )
    return set(done.stderr.split())


@pytest.mark.parametrize("path", LIBRARY[1:], ids=module_name)
def test_a_stage_imports_only_what_stands_to_its_left(path: Path) -> None:
    assert not against_the_flow(
        path.read_text(), module_name(path), is_package=path.name == "__init__.py"
    )


@pytest.mark.parametrize(
    ("source", "wrong"),
    [
        ("from ..write.dxf import write_drawing", "poolgeo.write.dxf.write_drawing"),
        ("def f():\n    from .. import measure", "poolgeo.measure"),
        ("import poolgeo.surface.kinds", "poolgeo.surface.kinds"),
        ("from poolgeo_cli.main import main", "poolgeo_cli.main.main"),
    ],
)
def test_an_import_against_the_flow_is_found(source: str, wrong: str) -> None:
    assert against_the_flow(source, "poolgeo.plan.region") == [wrong]


def test_every_module_and_folder_of_the_library_has_its_place_in_the_flow() -> None:
    names = {module_name(path).split(".")[1] for path in LIBRARY[1:]}
    assert names == set(STAGES)


@pytest.mark.parametrize("path", LIBRARY, ids=module_name)
def test_the_library_imports_heavy_packages_only_where_they_are_used(path: Path) -> None:
    allowed = BASES.get(path.relative_to(ROOT).as_posix(), set())
    assert at_the_top(path.read_text()) & HEAVY == allowed


def test_what_has_heavy_bases_is_imported_only_where_it_is_used() -> None:
    loaded = loaded_by("import poolgeo.write.prints, poolgeo.write.page, poolgeo.write.into")
    assert loaded.isdisjoint(HEAVY)


def test_a_heavy_import_at_the_top_is_found() -> None:
    source = "if TYPE_CHECKING:\n    import rich\nif True:\n    import ezdxf.math\n"
    assert at_the_top(source) == {"ezdxf"}


@pytest.mark.parametrize("path", COMMANDS, ids=lambda path: str(path.stem))
def test_the_command_line_imports_only_click_and_the_standard_library(path: Path) -> None:
    assert at_the_top(path.read_text()) <= {"click", *sys.stdlib_module_names}


def test_help_loads_neither_the_library_nor_numpy() -> None:
    code = "from poolgeo_cli.main import main\nmain(['--help'], standalone_mode=False)"
    assert {name.partition(".")[0] for name in loaded_by(code)}.isdisjoint(
        {"numpy", "shapely", "pydantic", "yaml", "poolgeo", *HEAVY}
    )


def test_importing_poolgeo_loads_nothing_of_it() -> None:
    loaded = loaded_by("import poolgeo")
    assert {name for name in loaded if name.startswith("poolgeo.")} == set()
    assert "numpy" not in loaded


@pytest.mark.parametrize("name", ["measure", "write"])
def test_a_public_function_is_not_hidden_by_the_folder_of_its_name(name: str) -> None:
    code = f"import poolgeo.{name}, poolgeo\nassert callable(poolgeo.{name})"
    assert f"poolgeo.{name}" in loaded_by(code)


@pytest.mark.parametrize("path", LIBRARY + COMMANDS, ids=lambda path: str(path.relative_to(ROOT)))
def test_modules_and_functions_stay_short(path: Path) -> None:
    source = path.read_text()
    assert source.count("\n") < 350
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            length = (node.end_lineno or node.lineno) - node.lineno + 1
            assert length <= 60, f"{node.name} has {length} lines"


@pytest.mark.parametrize("path", FEATURES, ids=lambda path: str(path.stem))
def test_a_feature_reads_as_one_page(path: Path) -> None:
    assert path.read_text().count("\n") <= 150
