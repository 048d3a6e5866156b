"""An edit to a rule in another file must give the new answer in the next process, on a copy of the house's own door."""

import os
import shutil
import subprocess
import sys

import pytest

from tests.house.files import ROOT

DAY = "from sim.compiled import loop\nfrom sim.grow import grow\n\n\n@loop\ndef day(size):\n    return grow(size)\n"
GROW = "from sim.compiled import rule\n\n\n@rule\ndef grow(size):\n    return size + {step}\n"


def answer(folder):
    environment = {**os.environ, "PYTHONPATH": str(folder), "LEAFNEST_CACHE": str(folder / "cache")}
    code = "from sim.day import day; from sim.rules_cache import is_warm; print(day(1), is_warm())"
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=folder, env=environment, capture_output=True, text=True, check=True
    )
    return done.stdout.split()[0]


@pytest.fixture
def copy(tmp_path):
    package = tmp_path / "sim"
    package.mkdir()
    (package / "__init__.py").touch()
    for name in ("compiled.py", "rules_cache.py"):
        shutil.copy(ROOT / "sim" / name, package)
    (package / "day.py").write_text(DAY, encoding="utf-8")
    (package / "grow.py").write_text(GROW.format(step=1), encoding="utf-8")
    return tmp_path


def test_an_edit_elsewhere_is_not_answered_by_old_machine_code(copy):
    assert answer(copy) == "2"
    assert any((copy / "cache").rglob("*.nbi")) == ("NUMBA_DISABLE_JIT" not in os.environ)
    (copy / "sim" / "grow.py").write_text(GROW.format(step=100), encoding="utf-8")
    assert answer(copy) == "101"


FORGETFUL = """
import numba

real = numba.njit


def njit(*arguments, **how):
    if FORGOTTEN & how.keys():
        raise KeyError(f"Unrecognized options: {FORGOTTEN & how.keys()}")
    return real(*arguments, **how)


numba.njit = njit
from sim.day import day

assert day(1) == 2
print(sorted(how for how in getattr(day, "targetoptions", {}) if how in ("_nrt", "no_cfunc_wrapper")))
"""


@pytest.mark.parametrize(
    ("forgotten", "left"),
    [("", "['_nrt', 'no_cfunc_wrapper']"), ("_nrt", "['no_cfunc_wrapper']"), ("_nrt no_cfunc_wrapper", "[]")],
)
def test_a_numba_that_has_dropped_an_option_of_ours_still_compiles(copy, forgotten, left):
    environment = {**os.environ, "PYTHONPATH": str(copy), "LEAFNEST_CACHE": str(copy / "cache")}
    code = f"FORGOTTEN = set({forgotten.split()!r})\n{FORGETFUL}"
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=copy, env=environment, capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == ("[]" if "NUMBA_DISABLE_JIT" in os.environ else left)
