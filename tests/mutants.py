"""Changes the program in one place at a time and counts how many of the changes its tests notice.

    python -m tests.mutants [--count 300] [--seed 20261201] [--only logbook/model] …

First the tests, those of the rooms left out, run once under coverage: so it is known which of them reach
which line. Then each change is made in a copy of the project, and the tests of its lines run until one fails.
Printed are the changes noticed by kind and by folder, and every one that nobody noticed. It takes an hour.
"""

from __future__ import annotations

import argparse
import ast
import multiprocessing
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[1]
FLOORS = ("model", "physics", "record", "files")
LEFT_OUT = ("tests/tui", "tests/benchmarks", "tests/docs")  # slow, and no judges of these floors
SEED, COUNT = 20261201, 300
MOST_TESTS = 150  # that are tried first
PATIENCE_S = 120

_FLIPPED: dict[type, type] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot, ast.IsNot: ast.Is,
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult, ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult, ast.Pow: ast.Mult, ast.And: ast.Or, ast.Or: ast.And,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Mutant:
    """One change: where, of which kind, and the text that takes the place of what stands there."""

    path: str
    kind: str
    span: tuple[int, int, int, int]  # first line, its column, last line, its column; columns in bytes
    old: str
    new: str

    @property
    def where(self) -> str:
        return f"{self.path}:{self.span[0]}"

    def changed(self, source: bytes) -> bytes:
        """The text of its file with the change."""
        lines = source.split(b"\n")
        first, left, last, right = self.span
        middle = lines[first - 1][:left] + self.new.encode() + lines[last - 1][right:]
        return b"\n".join([*lines[: first - 1], middle, *lines[last:]])


def _compare(node: ast.AST) -> ast.AST | None:
    if isinstance(node, ast.Compare) and len(node.ops) == 1:
        return ast.Compare(node.left, [_FLIPPED[type(node.ops[0])]()], node.comparators)
    return None


def _and_or(node: ast.AST) -> ast.AST | None:
    return ast.BoolOp(_FLIPPED[type(node.op)](), node.values) if isinstance(node, ast.BoolOp) else None


def _arithmetic(node: ast.AST) -> ast.AST | None:
    if isinstance(node, ast.BinOp) and type(node.op) in _FLIPPED:
        return ast.BinOp(node.left, _FLIPPED[type(node.op)](), node.right)
    return None


def _number(node: ast.AST) -> ast.AST | None:
    if isinstance(node, ast.Constant) and type(node.value) in (int, float):
        return ast.Constant(node.value + 1 if type(node.value) is int else node.value * 1.5 + 0.1)
    return None


def _truth(node: ast.AST) -> ast.AST | None:
    found = isinstance(node, ast.Constant) and isinstance(node.value, bool)
    return ast.Constant(not node.value) if found else None  # type: ignore[attr-defined]


def _not(node: ast.AST) -> ast.AST | None:
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
        return ast.Call(ast.Name("bool"), [node.operand], [])
    return None


def _sign(node: ast.AST) -> ast.AST | None:
    return node.operand if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub) else None


def _most_least(node: ast.AST) -> ast.AST | None:
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in ("min", "max"):
        return ast.Call(ast.Name("max" if node.func.id == "min" else "min"), node.args, node.keywords)
    return None


def _choice(node: ast.AST) -> ast.AST | None:
    return ast.IfExp(node.test, node.orelse, node.body) if isinstance(node, ast.IfExp) else None


KINDS: dict[str, Callable[[ast.AST], ast.AST | None]] = {
    "comparison": _compare, "and, or": _and_or, "not": _not, "true, false": _truth, "choice": _choice,
    "arithmetic": _arithmetic, "number": _number, "sign": _sign, "most, least": _most_least,
}  # fmt: skip


def mutants_of(path: Path) -> Iterator[Mutant]:
    """Every change that can be made in a file; what it says to readers and type checkers alone is left."""
    source = path.read_text(encoding="utf-8")
    for node in _walk(ast.parse(source)):
        for kind, change in KINDS.items():
            changed = change(node)
            if changed is not None:
                span = (node.lineno, node.col_offset, node.end_lineno, node.end_col_offset)  # type: ignore[attr-defined]
                yield Mutant(
                    str(path.relative_to(ROOT)), kind, span, ast.get_source_segment(source, node) or "",
                    f"({ast.unparse(ast.fix_missing_locations(changed))})",
                )  # fmt: skip


def _walk(node: ast.AST) -> Iterator[ast.AST]:
    for name, value in ast.iter_fields(node):
        if name in ("annotation", "returns", "decorator_list") or isinstance(node, ast.JoinedStr):
            continue
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.AST) and not _for_checkers(child):
                yield child
                yield from _walk(child)


def _for_checkers(node: ast.AST) -> bool:
    return isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"


def drawn(count: int, seed: int, only: str) -> list[Mutant]:
    """So many changes at random, each kind as likely as any other."""
    by_kind: dict[str, list[Mutant]] = defaultdict(list)
    for floor in FLOORS:
        for path in sorted((ROOT / "logbook" / floor).rglob("*.py")):
            if str(path.relative_to(ROOT)).startswith(only) and "migrations" not in path.parts:
                for mutant in mutants_of(path):
                    by_kind[mutant.kind].append(mutant)
    dice, found = random.Random(seed), []
    while by_kind and len(found) < count:
        kind = dice.choice(sorted(by_kind))
        found.append(by_kind[kind].pop(dice.randrange(len(by_kind[kind]))))
        if not by_kind[kind]:
            del by_kind[kind]
    return found


def run_under_coverage(data: Path) -> None:
    """Run the tests once and keep which of them reached which line."""
    options = [f"--ignore={each}" for each in LEFT_OUT]
    subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "--cov=logbook", "--cov-context=test", "--cov-report=",
         *options],
        cwd=ROOT, env=os.environ | {"COVERAGE_FILE": str(data)}, check=True,
    )  # fmt: skip


def reached(data: Path) -> dict[tuple[str, int], list[str]]:
    """File and line -> the tests that reach it."""
    from coverage import CoverageData

    read, found = CoverageData(str(data)), {}
    read.read()
    for path in read.measured_files():
        at = str(Path(path).relative_to(ROOT))
        for line, contexts in read.contexts_by_lineno(path).items():
            found[at, line] = sorted({context.partition("|")[0] for context in contexts if context})
    return found


def judges(mutant: Mutant, tests: dict[tuple[str, int], list[str]]) -> list[list[str]]:
    """What pytest is to run: the nearest tests that reach the line, then the files of all others."""
    floor = mutant.path.split("/")[1]
    first, _, last, _ = mutant.span
    found = [test for line in range(first, last + 1) for test in tests.get((mutant.path, line), [])]
    by_nearness = sorted(dict.fromkeys(found), key=lambda test: not test.startswith(f"tests/{floor}/"))
    if not by_nearness:  # it is read when the module is
        return [[f"tests/{each}" for each in (floor, "text", "cli")]]
    others = dict.fromkeys(test.partition("::")[0] for test in by_nearness[MOST_TESTS:])
    return [by_nearness[:MOST_TESTS], *([list(others)] if others else [])]


def tried(folder: Path, mutant: Mutant, arguments: Sequence[str]) -> str:
    """What became of a change in a copy of the project: `noticed`, `ran on`, or `not noticed`."""
    path = folder / mutant.path
    source, stood = path.read_bytes(), path.stat()
    path.write_bytes(mutant.changed(source))
    try:
        child = os.fork()
        if not child:
            _judge(folder, arguments)
        _, status = os.waitpid(child, 0)
    finally:
        path.write_bytes(source)
        os.utime(path, ns=(stood.st_atime_ns, stood.st_mtime_ns))
    if os.WIFSIGNALED(status):
        return "ran on" if os.WTERMSIG(status) == signal.SIGALRM else "noticed"
    return "noticed" if os.WEXITSTATUS(status) not in (0, 5) else "not noticed"


def _judge(folder: Path, arguments: Sequence[str]) -> None:
    signal.alarm(PATIENCE_S)
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
    os.chdir(folder)
    sys.dont_write_bytecode = True
    sys.path.insert(0, str(folder))
    import pytest

    os._exit(int(pytest.main(["-x", "-q", "-n", "0", "-p", "no:cacheprovider", *arguments])))


_folder: Path  # of this worker


def _begin(folders: Any) -> None:
    """A worker's copy of the project, and the libraries that every test loads."""
    global _folder
    _folder = Path(folders.get())
    for library in ("hypothesis", "numpy", "pytest", "sqlmodel", "typer"):
        import_module(library)


def _try(mutant: Mutant, turns: Sequence[Sequence[str]]) -> str:
    ends = (tried(_folder, mutant, arguments) for arguments in turns)
    return next((end for end in ends if end != "not noticed"), "not noticed")


def main() -> None:
    """Draws, tries and tells."""
    asked = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    asked.add_argument("--count", type=int, default=COUNT)
    asked.add_argument("--seed", type=int, default=SEED)
    asked.add_argument("--workers", type=int, default=os.cpu_count() or 1)
    asked.add_argument("--only", default="logbook/", metavar="PATH")
    asked.add_argument("--coverage", type=Path, metavar="FILE", help="kept from a run on the same commit")
    told = asked.parse_args()
    mutants = drawn(told.count, told.seed, told.only)
    with tempfile.TemporaryDirectory() as place:
        data = told.coverage or Path(place) / "coverage"
        if not data.exists():
            run_under_coverage(data)
        tests = reached(data)
        context = multiprocessing.get_context("spawn")
        folders = context.SimpleQueue()
        for n in range(told.workers):
            copy = Path(place) / f"copy-{n}"
            shutil.copytree(ROOT, copy, ignore=shutil.ignore_patterns(".git", ".venv", "*.egg-info"))
            folders.put(str(copy))
        ends: dict[Mutant, str] = {}
        with ProcessPoolExecutor(told.workers, context, _begin, (folders,)) as pool:
            waiting = {pool.submit(_try, mutant, judges(mutant, tests)): mutant for mutant in mutants}
            for end in as_completed(waiting):
                mutant = waiting[end]
                ends[mutant] = end.result()
                print(
                    f"{len(ends)}/{len(mutants)} {ends[mutant]}: {mutant.where} {mutant.kind}",
                    file=sys.stderr,
                )
    tell(ends)


def tell(ends: dict[Mutant, str]) -> None:
    """The table by kind and by folder, then every change that no test noticed."""
    for title, of in (("kind", lambda m: m.kind), ("folder", lambda m: str(Path(m.path).parent))):
        noticed, every = Counter[str](), Counter[str]()
        for mutant, end in ends.items():
            every[of(mutant)] += 1
            noticed[of(mutant)] += end != "not noticed"
        print(f"{title:32} noticed  of")
        for name in sorted(every):
            print(f"{name:32} {noticed[name]:7d} {every[name]:3d}")
    count = sum(end != "not noticed" for end in ends.values())
    print(f"{count} of {len(ends)} changes were noticed ({100 * count / len(ends):.0f} %); not noticed:")
    for mutant, end in sorted(ends.items(), key=lambda each: each[0].where):
        if end == "not noticed":
            print(f"{mutant.where} {mutant.kind}: {mutant.old} -> {mutant.new}")


if __name__ == "__main__":
    main()
