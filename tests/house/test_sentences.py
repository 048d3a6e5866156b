"""Every mistake is told as a sentence that another language can say again."""

from __future__ import annotations

import ast

import dashboard.teaching.reading
import dashboard.teaching.standards  # noqa: F401
import sim.jobs  # noqa: F401
from sim.errors import LeafnestError
from tests.house.files import ROOT

TELLERS = {"tell", "in_file", "first_mistake", "_", "_refusal", "wanted_file", "wanted_lesson"}


def _family(error=LeafnestError):
    return {error.__name__} | {name for below in error.__subclasses__() for name in _family(below)}


def _raised():
    for folder in ("sim", "dashboard", "scenarios"):
        for file in sorted((ROOT / folder).rglob("*.py")):
            for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
                call = node.exc if isinstance(node, ast.Raise) else None
                if isinstance(call, ast.Call) and isinstance(call.func, ast.Name) and call.func.id in _family():
                    yield f"{file.relative_to(ROOT)}:{node.lineno}", call.args[0]


def _is_told(said):
    if isinstance(said, ast.Call) and isinstance(said.func, ast.Attribute) and said.func.attr == "format":
        said = said.func.value
    if isinstance(said, ast.Call):
        return isinstance(said.func, ast.Name) and said.func.id in TELLERS
    return isinstance(said, ast.Name)  # told where the name was given


def test_no_error_is_raised_with_bare_english():
    raised = list(_raised())
    assert len(raised) > 100
    assert [place for place, said in raised if not _is_told(said)] == []
