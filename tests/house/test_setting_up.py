"""./start and ./check set up once: what is installed already is not asked for again, and no network is no hindrance."""

import shutil
import subprocess

import pytest

from tests.house.files import ROOT

PYTHON = '#!/bin/sh\necho "$@" >>asked\n[ ! -e offline ] || { echo "no index"; echo "no luck"; exit 1; } >&2\n'
LEAFNEST = "#!/bin/sh\n[ ! -e broken ]\n"


@pytest.fixture
def folder(tmp_path):
    """A folder with an environment whose Python writes down what it is asked for and fails where it is offline."""
    (tmp_path / ".ci").mkdir()
    shutil.copy(ROOT / ".ci" / "environment.sh", tmp_path / ".ci")
    (tmp_path / "pyproject.toml").write_text("[project]\n")
    programs = tmp_path / ".venv" / "bin"
    programs.mkdir(parents=True)
    for name, text in (("python", PYTHON), ("leafnest", LEAFNEST)):
        (programs / name).write_text(text)
        (programs / name).chmod(0o755)
    return tmp_path


def prepare(folder, what="."):
    """Return status, what pip was asked for, and what was said."""
    (folder / "asked").write_text("")
    script = f"set -eu; . ./.ci/environment.sh; prepare_environment '{what}'; echo on"
    done = subprocess.run(["sh", "-c", script], cwd=folder, capture_output=True, text=True)
    assert (done.stdout == "on\n") == (done.returncode == 0)
    return done.returncode, (folder / "asked").read_text().split()[-1:], done.stderr


def test_packages_are_installed_once(folder):
    assert prepare(folder) == (0, ["."], "")
    assert prepare(folder) == (0, [], "")
    assert prepare(folder, ".[test]") == (0, [".[test]"], "")
    assert prepare(folder, ".[test]") == prepare(folder) == (0, [], "")


def test_packages_are_installed_anew_for_another_list_of_them_or_another_folder(folder, tmp_path_factory):
    prepare(folder)
    (folder / "pyproject.toml").write_text("[project]\nname = 'other'\n")
    assert prepare(folder) == (0, ["."], "")
    moved = tmp_path_factory.mktemp("moved") / "here"
    shutil.copytree(folder, moved)
    assert prepare(moved) == (0, ["."], "")


def test_without_a_network_what_is_there_is_used_and_one_line_says_so(folder):
    (folder / "offline").touch()
    for _ in range(2):  # and the next start tries again
        status, asked, said = prepare(folder)
        assert (status, asked) == (0, ["."])
        assert said.count("\n") == 1
        assert "going on with those that are there" in said
    (folder / "offline").unlink()
    assert prepare(folder) == (0, ["."], "")


def test_without_a_network_and_without_a_program_it_stops(folder):
    (folder / "offline").touch()
    (folder / "broken").touch()
    status, _asked, said = prepare(folder)
    assert status != 0
    assert said == "no index\nno luck\n"


def test_half_an_environment_is_not_left_to_be_taken_for_a_whole_one(folder):
    shutil.rmtree(folder / ".venv")
    half = "mkdir -p .venv/bin; cp half .venv/bin/python; echo 'no ensurepip' >&2; exit 1"
    (folder / "half").write_text(f'#!/bin/sh\n[ "$1" != -m ] || {{ {half}; }}\n')
    (folder / "half").chmod(0o755)
    script = "set -eu; . ./.ci/environment.sh; PYTHON=./half; prepare_environment .; echo on"
    for _ in range(2):  # the second start says the same as the first, not something about pip
        done = subprocess.run(["sh", "-c", script], cwd=folder, capture_output=True, text=True)
        assert (done.returncode, done.stdout) == (1, "Setting up .venv, once…\n")
        assert done.stderr == "no ensurepip\n"
        assert not (folder / ".venv").exists()
