"""What is documented is what is there."""

import argparse
import re
import tomllib

import pytest

import sim
from dashboard.command import PLANS_COMPARED, parser
from sim.scenario import load_scenario
from tests.house.files import ROOT

PUBLIC = {
    "Comparison",
    "Scenario",
    "Season",
    "compare",
    "load_scenario",
    "run_season",
    "scenario_names",
}


def text_of(name):
    return (ROOT / name).read_text(encoding="utf-8")


def test_every_command_and_option_is_in_the_readme():
    readme = text_of("README.md")
    whole = parser()
    commands = next(action for action in whole._actions if isinstance(action, argparse._SubParsersAction)).choices
    for name, part in commands.items():
        assert f"leafnest {name}" in readme
        for action in part._actions:
            for option in action.option_strings:
                assert option in readme or option in ("-h", "--help"), f"{name} {option}"
    for action in whole._actions:
        assert all(option in readme or option in ("-h", "--help") for option in action.option_strings)


def test_the_readme_promises_nothing_that_is_not_there():
    readme = text_of("README.md")
    commands = next(action for action in parser()._actions if isinstance(action, argparse._SubParsersAction)).choices
    assert set(re.findall(r"`leafnest (\w+)", readme)) <= set(commands)
    for link in re.findall(r"\]\(([^)#:]+)\)", readme):
        assert (ROOT / link).exists(), link


@pytest.mark.parametrize(("name", "is_run"), [("__main__", True), ("__mp_main__", False)])
def test_the_python_example_of_the_readme_runs_and_only_once(capsys, name, is_run):
    """Where processes do not begin as copies, each reads the file that it is in again, under another name."""
    example = re.search(r"```python\n(.*?)```", text_of("README.md"), re.DOTALL)[1]
    exec(compile(example.replace("seasons=20", "seasons=2"), "README.md", "exec"), {"__name__": name})
    assert bool(capsys.readouterr().out) == is_run


def test_on_windows_the_readme_sets_up_what_start_does_without_a_shell():
    lines = re.search(r"```bat\n(.*?)```", text_of("README.md"), re.DOTALL)[1].splitlines()
    assert lines[0] == "py -m venv .venv"
    assert all(line.startswith(".venv\\Scripts\\") for line in lines[1:])
    programs = [line.removeprefix(".venv\\Scripts\\").replace("\\", "/").split() for line in lines[1:]]
    assert programs[0] == ["python", "-m", "pip", "install", "."]
    start = re.search(r"leafnest (compare .*) \\\n +(.*)", text_of("start"))
    wanted, given = (parser().parse_args(words) for words in (" ".join(start.groups()).split(), programs[2][1:]))
    given.plans = given.plans or list(load_scenario(given.scenario).plan_names[:PLANS_COMPARED])
    assert vars(given) == vars(wanted)
    assert [program[0] for program in programs[1:]] == ["leafnest", "leafnest"]


def test_the_public_names_are_these_and_each_says_what_it_is():
    assert set(sim.__all__) == PUBLIC
    for name in sim.__all__:
        assert getattr(sim, name).__doc__, name


def test_the_version_is_the_same_everywhere():
    version = tomllib.loads(text_of("pyproject.toml"))["project"]["version"]
    assert f"version: {version}\n" in text_of("CITATION.cff")
    assert f"## {version}" in text_of("CHANGELOG.md")


def test_every_version_has_the_three_parts_of_the_changelog():
    parts = re.split(r"^## ", text_of("CHANGELOG.md"), flags=re.MULTILINE)[1:]
    for part in parts:
        assert re.findall(r"^### (.*)$", part, re.MULTILINE) == [
            "Model results changed",
            "Things you can do",
            "Repairs",
        ]


def test_every_dependency_has_its_reason():
    developers = text_of("DEVELOPERS.md").lower()
    project = tomllib.loads(text_of("pyproject.toml"))["project"]
    groups = [project["dependencies"], *project["optional-dependencies"].values()]
    for requirement in {line for group in groups for line in group}:
        name = re.match(r"[A-Za-z0-9_-]+", requirement)[0].lower()
        assert name in developers, name
