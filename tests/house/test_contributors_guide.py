"""The contributor's guide names what is there, and leaves nothing out that a newcomer would look for."""

import re
import tomllib

import pytest

from tests.house.files import ROOT

GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
RECIPES = {
    "A bargain",
    "A crop",
    "An insect",
    "An enemy",
    "A plan",
    "A garden",
    "A lesson",
    "A question",
    "An action",
    "A page",
    "A picture",
    "A block of a handout",
    "A sentence",
    "A language",
    "A parameter",
    "A measure",
    "A weather file",
    "An outside check",
}


def part(title):
    return re.search(rf"^## {re.escape(title)}\n(.*?)(?=^## |\Z)", GUIDE, re.MULTILINE | re.DOTALL)[1]


def test_the_table_of_packages_is_that_of_the_project():
    listed = re.findall(r"^\| `([\w-]+)` \| (.+) \|$", part("What we lean on, and why"), re.MULTILINE)
    groups = [PROJECT["project"]["dependencies"], *PROJECT["project"]["optional-dependencies"].values()]
    needed = {re.match(r"[\w-]+", requirement)[0] for group in groups for requirement in group}
    assert {name for name, _ in listed} == needed


def test_every_path_named_is_there():
    paths = set(re.findall(r"`((?:sim|scenarios|dashboard|tests|\.ci)/[\w/.-]+)`", GUIDE))
    assert paths
    for path in paths:
        assert (ROOT / path).exists(), path


@pytest.mark.parametrize("top", ["sim", "tests", "dashboard"])
def test_every_room_is_in_the_house(top):
    house = part("The house")
    for path in sorted((ROOT / top).iterdir()):
        is_room = path.is_dir() and any(path.rglob("*.py")) and path.name != "__pycache__"
        is_file = top != "tests" and path.suffix == ".py" and path.name != "__init__.py"
        if is_room or is_file:
            assert f"`{top}/{path.name}`" in house, f"{top}/{path.name} is not in DEVELOPERS.md"


def test_every_marker_is_explained():
    for marker in PROJECT["tool"]["pytest"]["ini_options"]["markers"]:
        assert re.search(rf"`{marker.split(':')[0]}`\s\(", GUIDE), marker


def test_every_recipe_is_there():
    assert set(re.findall(r"^### (.*)$", part("How to add …"), re.MULTILINE)) == RECIPES


def test_names_in_capitals_that_recipes_speak_of_are_in_the_code():
    code = "\n".join(path.read_text(encoding="utf-8") for path in ROOT.glob("[sdt]*/**/*.py"))
    for name in set(re.findall(r"`(_?[A-Z][A-Z_]{3,})`", part("How to add …"))):
        assert re.search(rf"\b{name}\b", code), name


def test_commands_named_can_be_run():
    for module in set(re.findall(r"python -m (tests[\w.]*)", GUIDE)):
        assert (ROOT / f"{module.replace('.', '/')}.py").exists(), module
    for path in set(re.findall(r"pytest (tests[\w/.]*)", GUIDE)):
        assert (ROOT / path).exists(), path
