"""Where the house's own files are."""

import ast
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGES = ("sim", "dashboard", "scenarios", "lessons")


def python_files(*tops):
    """Return every Python file below these folders of the project."""
    return sorted(path for top in tops for path in (ROOT / top).rglob("*.py"))


def name_of(path):
    """Return a file's path as it is said in messages."""
    return path.relative_to(ROOT).as_posix()


def modules_imported(path):
    """Return the full names of all modules that a file imports, inside functions too."""
    names = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            names |= {node.module} | {f"{node.module}.{alias.name}" for alias in node.names}
    return names
