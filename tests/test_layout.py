"""The house keeps its shape: no circle of imports, folders, modules and functions that one can look over."""

from __future__ import annotations

import ast
from collections.abc import Iterator, Mapping
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import logbook

HOME = Path(logbook.__file__).parent
MOST_LINES, MOST_FUNCTION_LINES, MOST_MODULES, MOST_COMMANDS = 400, 60, 30, 45


@cache
def trees() -> Mapping[str, ast.Module]:
    """Every module by its dotted name."""
    return {
        ".".join(("logbook", *path.relative_to(HOME).with_suffix("").parts)).removesuffix(
            ".__init__"
        ): ast.parse(path.read_text(encoding="utf-8"))
        for path in HOME.rglob("*.py")
    }


def imported(node: ast.AST) -> Iterator[str]:
    """What is imported below a node, in functions too, but not for types alone."""
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.If) and "TYPE_CHECKING" in ast.unparse(child.test):
            continue
        if isinstance(child, ast.ImportFrom) and child.module:
            for alias in child.names:
                whole = f"{child.module}.{alias.name}"
                yield whole if whole in trees() else child.module
        elif isinstance(child, ast.Import):
            yield from (alias.name for alias in child.names)
        else:
            yield from imported(child)


def test_no_module_imports_itself_by_way_of_others() -> None:
    edges = {name: {other for other in imported(tree) if other in trees()} for name, tree in trees().items()}
    assert sum(map(len, edges.values())) > 1000
    try:
        TopologicalSorter(edges).prepare()
    except CycleError as error:
        raise AssertionError(" imports ".join(reversed(error.args[1]))) from None


def test_no_module_is_too_long_to_look_over() -> None:
    lines = {path: len(path.read_text(encoding="utf-8").splitlines()) for path in HOME.rglob("*.py")}
    assert {path.name: count for path, count in lines.items() if count > MOST_LINES} == {}


def test_no_function_is_too_long_to_look_over() -> None:
    functions = [
        (f"{name}.{node.name}", (node.end_lineno or 0) - node.lineno + 1)
        for name, tree in trees().items()
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
    ]
    assert len(functions) > 1000
    assert [found for found in functions if found[1] > MOST_FUNCTION_LINES] == []


def test_no_folder_holds_more_modules_than_one_can_look_over() -> None:
    folders = {path.parent for path in HOME.rglob("*.py")} - {HOME / "cli"}
    sizes = {
        str(folder.relative_to(HOME)): len([p for p in folder.glob("*.py") if p.name != "__init__.py"])
        for folder in folders
    }
    assert {name: count for name, count in sizes.items() if count > MOST_MODULES} == {}
    assert len([p for p in (HOME / "cli").rglob("*.py") if p.name != "__init__.py"]) <= MOST_COMMANDS
