"""The core runs on a phone: standard library only, no clock, no files, no network."""

import ast
import sys
from pathlib import Path

import pytest

import server.trade

MODULES = sorted(Path(server.trade.__file__).parent.glob("*.py"))
REACHES_OUT = {
    "asyncio", "http", "io", "multiprocessing", "os", "pathlib", "random", "secrets", "shutil", "socket",
    "sqlite3", "ssl", "subprocess", "tempfile", "threading", "time", "urllib", "zoneinfo",
}  # fmt: skip
CLOCKS_AND_FILES = {"now", "today", "utcnow", "open", "read_text", "write_text", "fromtimestamp"}


def imported(tree: ast.AST) -> set[str]:
    names = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0
            names.add(node.module)
    return names


def called(tree: ast.AST) -> set[str]:
    functions = [node.func for node in ast.walk(tree) if isinstance(node, ast.Call)]
    return {f.attr if isinstance(f, ast.Attribute) else getattr(f, "id", "") for f in functions}


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.stem)
def test_imports_the_standard_library_and_itself_only(path):
    for name in imported(ast.parse(path.read_text())):
        own = name == "server" or name.split(".")[:2] == ["server", "trade"]
        top = name.split(".")[0]
        assert own or (top in sys.stdlib_module_names and top not in REACHES_OUT), name


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.stem)
def test_reads_no_clock_and_no_file(path):
    assert not called(ast.parse(path.read_text())) & CLOCKS_AND_FILES


def test_the_rule_can_be_broken():
    bad = ast.parse("import numpy\nfrom time import time\ndatetime.date.today()\nopen('x')")
    assert imported(bad) == {"numpy", "time"}
    assert called(bad) & CLOCKS_AND_FILES == {"today", "open"}
