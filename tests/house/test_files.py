"""Size, names and words of files."""

import re

import pytest

from tests.house.files import ROOT, name_of, python_files

MOST_LINES = 400
FORBIDDEN_NAMES = {"utils", "util", "helpers", "helper", "common", "misc", "manager"}
EVERYWHERE = ("sim", "dashboard", "scenarios", "lessons", "tests")
UNFINISHED = re.compile(
    "|".join(["TO" + "DO", "FIX" + "ME", r"\bX" + r"XX\b", "pytest.mark.sk" + "ip", "pytest.mark.xf" + "ail"])
)


@pytest.mark.parametrize("path", python_files(*EVERYWHERE), ids=name_of)
def test_a_file_is_short_and_named_for_its_one_job(path):
    lines = len(path.read_text(encoding="utf-8").splitlines())
    assert lines <= MOST_LINES, f"{lines} lines: part it into files with a job each"
    assert path.stem not in FORBIDDEN_NAMES


@pytest.mark.parametrize("path", python_files(*EVERYWHERE), ids=name_of)
def test_nothing_is_left_for_later(path):
    assert not UNFINISHED.search(path.read_text(encoding="utf-8"))


@pytest.mark.parametrize("path", python_files("sim", "dashboard"), ids=name_of)
def test_a_file_says_what_it_is_for(path):
    text = path.read_text(encoding="utf-8")
    assert not text.strip() or text.lstrip().startswith('"""')


def test_the_model_imported_is_this_one():
    import dashboard
    import sim

    assert _folder(sim) == (ROOT / "sim")
    assert _folder(dashboard) == (ROOT / "dashboard")


def _folder(package):
    from pathlib import Path

    return Path(package.__file__).resolve().parent
