"""The house keeps its walls: door plates, direction of imports, pure rooms, frozen records, error tree."""

from __future__ import annotations

import ast
import inspect
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from pydantic import BaseModel

from staydown.foundation import errors
from staydown.job import records

TOP = Path(__file__).parents[2]
PACKAGE = TOP / "src" / "staydown"
DOORS = {"cli", "web", "study", "workbench", "storage"}  # they may read files and know the day

STANDARD_LIBRARY = {
    *(
        "__future__",
        "abc",
        "ast",
        "bisect",
        "collections",
        "dataclasses",
        "datetime",
        "decimal",
        "difflib",
        "enum",
    ),
    *(
        "fractions",
        "functools",
        "hashlib",
        "heapq",
        "html",
        "inspect",
        "itertools",
        "json",
        "math",
        "operator",
    ),
    *("re", "statistics", "string", "textwrap", "types", "typing", "unicodedata"),
}
THIRD_PARTY = {"numpy"}
ONLY_IN: dict[str, set[str]] = {"pydantic": {"job"}, "pint": set()}
ONLY_INSIDE_FUNCTIONS = {"scipy"}
NEVER = {"scipy.stats"}  # 0.4 s of start-up; scipy.special has the quantiles
IMPURE_CALLS = {"print", "open", "input", "eval", "exec", "__import__", "breakpoint"}
IMPURE_ATTRIBUTES = {"now", "today", "utcnow", "default_rng", "seed", "read_text", "write_text", "tofile"}
IMPURE_OF_NUMPY = {"load", "save", "savez", "loadtxt", "savetxt", "genfromtxt", "fromfile", "memmap"}


def rooms() -> list[Path]:
    """Return every folder of the package that holds code."""
    return sorted(path.parent for path in PACKAGE.glob("*/__init__.py"))


def pure_files() -> list[Path]:
    """Return every file of the rooms that must stay pure."""
    files = [path for path in PACKAGE.rglob("*.py") if path.relative_to(PACKAGE).parts[0] not in DOORS]
    return sorted(path for path in files if path != PACKAGE / "__init__.py")


def name_of(path: Path) -> str:
    """Return a file's path inside the package."""
    return path.relative_to(PACKAGE).as_posix()


def tree_of(path: Path) -> ast.Module:
    """Return a file's syntax tree."""
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def imports_of(tree: ast.Module) -> Iterator[tuple[str, bool]]:
    """Yield every module imported anywhere in a file, and whether inside a function."""
    inside = {
        id(child)
        for node in ast.walk(tree)
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef))
        for child in ast.walk(node)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((alias.name, id(node) in inside) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, "imports are written from the package down"
            yield str(node.module), id(node) in inside
            yield from ((f"{node.module}.{alias.name}", id(node) in inside) for alias in node.names)


def forbidden_import(place: str, module: str, *, inside: bool) -> str:
    """Return why a pure room may not import a module, or an empty string."""
    top = module.split(".")[0]
    if top == "staydown" or top in STANDARD_LIBRARY | THIRD_PARTY:
        return ""
    if any(module == never or module.startswith(never + ".") for never in NEVER):
        return f"{module} is never loaded in the rooms"
    if top in ONLY_INSIDE_FUNCTIONS and not inside:
        return f"{module} is loaded only inside the function that needs it"
    homes = ONLY_IN.get(top, set() if top not in ONLY_INSIDE_FUNCTIONS else {place})
    if place in homes or place.split("/")[0] in homes:
        return ""
    return f"{module} is not on the list of what a room may import"


def impurities(tree: ast.Module) -> list[str]:
    """Return calls that print, read files, ask the clock or draw from a hidden generator."""
    found = []
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        called = node.func
        if isinstance(called, ast.Name) and called.id in IMPURE_CALLS:
            found.append(f"line {node.lineno}: {called.id}()")
        if isinstance(called, ast.Attribute):
            owner = ast.unparse(called.value)
            drawn = owner in {"random", "np.random", "numpy.random"}
            read = owner in {"np", "numpy"} and called.attr in IMPURE_OF_NUMPY
            if drawn or read or called.attr in IMPURE_ATTRIBUTES:
                found.append(f"line {node.lineno}: {owner}.{called.attr}()")
    return found


@pytest.mark.parametrize("room", rooms(), ids=lambda path: path.name)
def test_every_room_has_a_door_plate(room: Path) -> None:
    """A room's front page is a docstring alone: its question, what goes in, what comes out."""
    tree = tree_of(room / "__init__.py")
    plate = ast.get_docstring(tree) or ""

    assert len(tree.body) == 1, "nothing but the docstring"
    assert plate.splitlines()[0].endswith("?"), "the first line is the room's question"
    assert [line.split(":")[0] for line in plate.splitlines() if line.startswith(("In:", "Out:"))] == [
        "In",
        "Out",
    ]


def test_imports_go_one_way() -> None:
    """The import contracts hold, and a room that stands in none of their layers fails."""
    command = [
        sys.executable,
        "-c",
        "from importlinter.cli import lint_imports_command; lint_imports_command()",
    ]
    done = subprocess.run([*command, "--no-cache"], cwd=TOP, capture_output=True, text=True, check=False)

    assert done.returncode == 0, done.stdout + done.stderr


def test_the_contract_lists_every_room_once() -> None:
    """The layers stay exhaustive, so that a new room cannot slip past them."""
    settings = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))
    layers = settings["tool"]["importlinter"]["contracts"][0]
    listed = [name.strip(" ()") for layer in layers["layers"] for name in layer.split("|")]

    assert layers["exhaustive"] is True
    assert len(listed) == len(set(listed))
    assert {room.name for room in rooms()} <= set(listed)


@pytest.mark.parametrize("path", pure_files(), ids=name_of)
def test_a_room_imports_only_what_is_on_the_list(path: Path) -> None:
    """Imports inside functions and under TYPE_CHECKING count."""
    place = name_of(path)
    found = {forbidden_import(place, module, inside=inside) for module, inside in imports_of(tree_of(path))}

    assert found <= {""}


@pytest.mark.parametrize("path", pure_files(), ids=name_of)
def test_a_room_is_pure(path: Path) -> None:
    """No room prints, reads a file, asks the clock or draws from a generator that it was not given."""
    found = impurities(tree_of(path))

    assert found == []


@pytest.mark.parametrize("path", sorted(PACKAGE.rglob("*.py")), ids=name_of)
def test_records_are_frozen(path: Path) -> None:
    """Every dataclass is frozen, has slots and takes its fields by keyword."""
    wanted = {"frozen": True, "slots": True, "kw_only": True}
    for node in ast.walk(tree_of(path)):
        if not isinstance(node, ast.ClassDef):
            continue
        for decorator in node.decorator_list:
            if "dataclass" in ast.unparse(decorator):
                assert isinstance(decorator, ast.Call), f"{node.name}: frozen, slots, kw_only"
                given = {word.arg: ast.literal_eval(word.value) for word in decorator.keywords}

                assert wanted.items() <= given.items(), node.name


def test_the_job_is_frozen_and_refuses_unknown_keys() -> None:
    """Every record of the job is frozen and takes no key that it does not know."""
    found = [cls for _, cls in inspect.getmembers(records, inspect.isclass) if issubclass(cls, BaseModel)]

    assert records.Job in found
    for cls in found:
        if cls is not BaseModel:
            assert cls.model_config.get("frozen") is True, cls
            assert cls.model_config.get("extra") == "forbid", cls


def test_the_error_tree_is_drawn_as_it_is() -> None:
    """The tree at the top of errors.py has each class under its base, and leaves none out."""
    drawn: dict[str, str] = {}
    branch: list[str] = []
    for line in str(errors.__doc__).splitlines():
        stem = line.lstrip("│├└─ ")
        name = stem.split(" ")[0]
        if name in vars(errors):
            depth = (len(line) - len(stem)) // 4
            branch = [*branch[:depth], name]
            drawn[name] = branch[-2] if depth else "Exception"
    written = {
        name: cls.__bases__[0].__name__
        for name, cls in inspect.getmembers(errors, inspect.isclass)
        if cls.__module__ == errors.__name__
    }

    assert drawn == written


@pytest.mark.parametrize(
    ("module", "inside", "refused"),
    [
        ("sqlite3", True, True),
        ("pathlib", False, True),
        ("random", True, True),
        ("time", False, True),
        ("logging", False, True),
        ("urllib.request", True, True),
        ("pint", True, True),
        ("pydantic", False, True),
        ("scipy.special", False, True),
        ("scipy.special", True, False),
        ("scipy.stats", True, True),
        ("scipy.stats.norm", True, True),
        ("numpy.typing", False, False),
        ("staydown.foundation.law", False, False),
        ("math", False, False),
    ],
)
def test_the_list_refuses_what_it_should(module: str, inside: bool, refused: bool) -> None:
    """The guard itself can fail: a fault planted in `loads` is found."""
    assert bool(forbidden_import("loads/build_cases.py", module, inside=inside)) is refused


@pytest.mark.parametrize(
    "line",
    [
        "print(1)",
        "open('x')",
        "datetime.now()",
        "date.today()",
        "np.random.default_rng()",
        "np.random.normal()",
    ],
)
def test_the_purity_guard_sees(line: str) -> None:
    """The guard itself can fail: each kind of impurity is seen."""
    assert impurities(ast.parse(line)) != []
