"""An edit elsewhere gives the new answer in the next process, and a disk that refuses is told or done without.

On a copy of the house's own door to the compiler.
"""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from sim.rules_cache import sources_fingerprint
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
    for name in ("compiled.py", "errors.py", "rules_cache.py"):
        shutil.copy(ROOT / "sim" / name, package)
    (package / "day.py").write_text(DAY, encoding="utf-8")
    (package / "grow.py").write_text(GROW.format(step=1), encoding="utf-8")
    return tmp_path


def test_an_edit_elsewhere_is_not_answered_by_old_machine_code(copy):
    assert answer(copy) == "2"
    assert any((copy / "cache").rglob("*.nbi")) == ("NUMBA_DISABLE_JIT" not in os.environ)
    (copy / "sim" / "grow.py").write_text(GROW.format(step=100), encoding="utf-8")
    assert answer(copy) == "101"


def test_sources_are_the_same_however_a_machine_ends_its_lines(tmp_path):
    prints = []
    for ends in ("\n", "\r\n"):
        folder = tmp_path / ends.encode().hex()
        folder.mkdir()
        (folder / "grow.py").write_text(GROW.format(step=1), encoding="utf-8", newline=ends)
        prints.append(sources_fingerprint(folder))
    assert prints[0] == prints[1]
    (folder / "grow.py").write_text(GROW.format(step=2), encoding="utf-8")
    assert sources_fingerprint(folder) != prints[0]


READ_ONLY = """
import errno, os, sys, tempfile
from pathlib import Path

READ_ONLY = Path(sys.argv[1])
real = tempfile.TemporaryFile


def refused(*arguments, dir=None, **how):
    if dir is not None and Path(dir).is_relative_to(READ_ONLY):
        raise OSError(errno.EROFS, "Read-only file system")
    return real(*arguments, dir=dir, **how)


tempfile.TemporaryFile = refused  # by which both numba and the house try whether they can write
"""
ANSWER = """
from sim.errors import LeafnestError

try:
    from sim.compiled import IS_COMPILED
    from sim.day import day
    from sim.rules_cache import is_warm, rules_folder

    value = day(1)
    hits = sum(day.stats.cache_hits.values()) if IS_COMPILED else 0
    print(value, is_warm(), hits, rules_folder())
except LeafnestError as error:
    print("told:", error)
"""


def run(folder, code, *arguments, **changes):
    """Return what the code prints, in words, in a process with the folder's own temporary folder."""
    temporary = folder / "temporary"
    temporary.mkdir(exist_ok=True)
    environment = {**os.environ, "PYTHONPATH": str(folder), "TMPDIR": str(temporary), **changes}
    environment = {name: value for name, value in environment.items() if value is not None}
    done = subprocess.run(
        [sys.executable, "-c", code, *map(str, arguments)], cwd=folder, env=environment, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.split()


@pytest.mark.parametrize("is_whole", [False, True])
def test_a_cache_that_can_only_be_read_is_used_from_a_copy_if_it_is_whole(copy, is_whole):
    kept = copy / "cache"
    assert answer(copy) == "2"
    if is_whole:
        run(copy, "from sim.rules_cache import note_warm; note_warm()", LEAFNEST_CACHE=str(kept))
    before = {path: path.stat().st_mtime_ns for path in kept.rglob("*")}
    for hits in (int(is_whole), 1):  # what was compiled in vain serves the next start
        value, is_warm, found_hits, folder = run(copy, READ_ONLY + ANSWER, kept, LEAFNEST_CACHE=str(kept))
        assert (value, is_warm) == ("2", str(is_whole))
        assert int(found_hits) == (hits if "NUMBA_DISABLE_JIT" not in os.environ else 0)
        assert Path(folder).is_relative_to(copy / "temporary")
    assert {path: path.stat().st_mtime_ns for path in kept.rglob("*")} == before


def test_a_person_without_a_home_gets_a_folder_of_their_own(copy):
    code = "from pathlib import Path\n\ndef home():\n    raise RuntimeError\n\nPath.home = home\n" + ANSWER
    value, *_, folder = run(copy, code, LEAFNEST_CACHE=None, XDG_CACHE_HOME=None, HOME=None)
    assert value == "2"
    base = Path(folder).parent
    assert base.parent == copy / "temporary"
    assert not base.stat().st_mode & 0o077


def test_a_temporary_folder_that_others_can_write_to_is_not_used(copy):
    name = run(copy, ANSWER, LEAFNEST_CACHE=str(copy / "sim" / "day.py"))[-1]
    taken = Path(name).parent
    shutil.rmtree(taken)
    taken.mkdir()
    taken.chmod(0o777)
    value, *_, folder = run(copy, ANSWER, LEAFNEST_CACHE=str(copy / "sim" / "day.py"))
    assert value == "2"
    assert not Path(folder).is_relative_to(taken)
    assert not list(taken.iterdir())
    assert not Path(folder).exists()  # it was this process's own


def test_a_disk_that_takes_no_rules_is_told_in_a_sentence(copy):
    """A limit on the size of files is what a disk looks like that fills up under way."""
    small = "import resource\nresource.setrlimit(resource.RLIMIT_FSIZE, ({size}, {size}))\n"
    for size in (1000, 5000):  # less than what is tried, and less than a rule
        said = " ".join(run(copy, small.format(size=size) + ANSWER, LEAFNEST_CACHE=str(copy / "cache")))
        if size == 5000 and "NUMBA_DISABLE_JIT" in os.environ:
            assert said.startswith("2 False")
        else:
            assert said.startswith("told: The compiled rules cannot be kept in '")
            assert said.endswith("': File too large. Let LEAFNEST_CACHE name a folder with 50 MB free.")


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
