"""Pool files that are no YAML document, or one that holds what a pool file must not hold."""

from __future__ import annotations

from pathlib import Path

from .malformed_making import case, pool


def _missing(folder: Path) -> Path:
    return folder / "none.yaml"


def _folder(folder: Path) -> Path:
    (folder / "pool.yaml").mkdir()
    return folder / "pool.yaml"


def _below_a_file(folder: Path) -> Path:
    (folder / "pool.yaml").write_text("name: x\n")
    return folder / "pool.yaml" / "pool.yaml"


def _long_name(folder: Path) -> Path:
    return folder / ("x" * 5000)


def _link_to_itself(folder: Path) -> Path:
    (folder / "pool.yaml").symlink_to(folder / "pool.yaml")
    return folder / "pool.yaml"


BOMB = "".join(f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]\n" for n in range(1, 9))

FILES = (
    case("missing", _missing, None, "the file must exist", "check the name"),
    case("folder", _folder, None, "a pool file must be a file", "a directory"),
    case("below a file", _below_a_file, None, "the file must be readable"),
    case("name too long", _long_name, None, "the file must be readable"),
    case("link to itself", _link_to_itself, None, "the file must be readable"),
    case("too large", b"#" * 1_000_001, None, "must not be larger than 1 MB"),
)

DOCUMENTS = (
    case("empty", b"", None, "the file must not be empty", "poolgeo new"),
    case("only comments", b"# a pool\n\n# to come\n", None, "the file must not be empty"),
    case("only spaces", b" \n \n", None, "the file must not be empty"),
    case("a null document", b"---\n~\n", 2, "must be a mapping", "got nothing"),
    case("null characters", b"name: a\nunits\x00: mm\n", 2, "must be text", r"'\x00'"),
    case("an image", b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", 1, "must be UTF-8", "0x89"),
    case("Latin 1", "name: B\xe4der\n".encode("latin-1"), 1, "must be UTF-8 text", "0xe4"),
    case("UTF-16", "name: x\n".encode("utf-16"), 1, "must be UTF-8 text", "0xff"),
    case("escape sequence", b"name: \x1b[31mred\n", 1, "must be text", r"'\x1b'"),
    case("bracket left open", pool(outline="{shape: circle"), 4, "the file must be YAML"),
    case("quote left open", b'name: "a pool\nunits: mm\n', 3, "the file must be YAML"),
    case("tab", b"outline:\n\tshape: circle\n", 2, "must be YAML", "spaces, not tabs"),
    case("two colons", b"name: a: b\n", 1, "the file must be YAML"),
    case("uneven indent", b"outline:\n   shape: circle\n  radius: 1\n", 3, "must be YAML"),
    case("bad escape", b'name: "\\q"\n', 1, "the file must be YAML"),
    case("a list", b"- name: x\n", 1, "must be a mapping", "got [a mapping of name]"),
    case("a word", b"pool\n", 1, "must be a mapping", "got 'pool'"),
    case("a number", b"42\n", 1, "must be a mapping", "got 42"),
    case("two documents", pool("---\nname: y"), 5, "must hold one document"),
    case("alias bomb", f"a0: &a0 [x]\n{BOMB}".encode(), 2, "'a1' must not carry an anchor"),
    case("alias", pool("cove: *c"), 5, "'cove' must not be an alias", "got '*c'"),
    case("alias as key", pool("*c : 1"), 5, "must not be an alias"),
    case("anchor", pool("cove: &c {radius: 50}"), 5, "'cove' must not carry an anchor"),
    case("merge", pool("cove: {<<: {radius: 50}}"), 5, "'cove['<<']' must be a key"),
    case("deep lists", b"[" * 100, 1, "must not be nested deeper than 32 levels"),
    # libyaml has a limit of its own, and reads ahead.
    case("abyss", b"[" * 100_000, 1, "the file must", "nest"),
    case("deep blocks", b"- " * 400 + b"x", 1, "must not be nested deeper than 32 levels"),
    case("deep mappings", b"{a: " * 40, 1, "must not be nested deeper than 32 levels"),
    case("many values", b"[" + b"1," * 200_000, 1, "must not hold more than 100000 values"),
    case(
        "key twice", pool("floor: {shape: level, depth: 1}"), 5, "'floor' must stand once", "line 4"
    ),
    case("inner key twice", pool("cove: {radius: 50, radius: 60}"), 5, "'cove.radius' must stand"),
    case("number as key", pool("1: x"), 5, "the file must have keys that are text", "got 1"),
    case("true as key", pool("true: x"), 5, "must have keys that are text", "got true"),
    case("list as key", pool("cove:\n  ? [a, b]\n  : 1"), 6, "'cove' must have keys that are text"),
    case("tag", pool("cove: !!set {radius}"), 5, "'cove' must not carry a tag"),
    case("tag on a value", pool("cove: {radius: !!python/name:os.system 5}"), 5, "carry a tag"),
)
