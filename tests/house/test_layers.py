"""Who may import whom: one direction, from names and chance to whole seasons to screens."""

import pytest

from tests.house.files import modules_imported, name_of, python_files

FOUNDATION = {
    "sim.errors",
    "sim.compiled",
    "sim.rules_cache",
    "sim.randomness",
    "sim.cast",
    "sim.parameters",
    "sim.surroundings",
}
GUILDS = ("sim.crops", "sim.insects", "sim.enemies", "sim.pollinators", "sim.birds")
SHARED_RECORDS = {"sim.crops.plant"}
WHOLE_SEASON = (
    "sim.garden",
    "sim.season",
    "sim.film",
    "sim.comparison",
    "sim.sweep",
    "sim.export",
    "sim.workers",
    "sim.cluster",
    "sim.jobs",
)
SCREENS = {"dashboard", "streamlit", "altair", "matplotlib", "rich"}
PAGELESS = ("language", "plans", "lesson", "charts")


def module_of(path):
    return name_of(path).removesuffix(".py").removesuffix("/__init__").replace("/", ".")


def belongs_to(module, package):
    return module == package or module.startswith(f"{package}.")


def imported_by(package):
    for path in python_files("sim"):
        if belongs_to(module_of(path), package):
            for name in modules_imported(path):
                yield name_of(path), name


def test_the_model_knows_nothing_of_screens():
    for path in python_files("sim", "scenarios"):
        tops = {name.split(".")[0] for name in modules_imported(path)}
        assert not tops & SCREENS, name_of(path)


@pytest.mark.parametrize("guild", GUILDS)
def test_guilds_meet_only_through_what_the_garden_hands_over(guild):
    seen = list(imported_by(guild))
    assert seen, f"{guild} was not found"
    for path, name in seen:
        for other in (*GUILDS, "sim.practices", "sim.scenario", *WHOLE_SEASON):
            if other != guild and belongs_to(name, other):
                assert any(belongs_to(name, shared) for shared in SHARED_RECORDS), f"{path} imports {name}"


@pytest.mark.parametrize("module", sorted(FOUNDATION))
def test_the_foundation_rests_on_nothing_above_it(module):
    for path, name in imported_by(module):
        if belongs_to(name, "sim"):
            assert name == "sim" or any(belongs_to(name, base) for base in FOUNDATION), f"{path} imports {name}"


def test_practices_do_not_import_the_living():
    for path, name in imported_by("sim.practices"):
        for other in (*GUILDS, *WHOLE_SEASON):
            if belongs_to(name, other):
                assert any(belongs_to(name, shared) for shared in SHARED_RECORDS), f"{path} imports {name}"


def test_compilation_has_one_door():
    for path in python_files("sim", "dashboard"):
        if name_of(path) != "sim/compiled.py":
            assert not any(name.split(".")[0] == "numba" for name in modules_imported(path)), name_of(path)


def test_words_plans_lessons_and_pictures_do_not_know_the_page():
    for path in python_files(*(f"dashboard/{part}" for part in PAGELESS)):
        assert not any(name.split(".")[0] == "streamlit" for name in modules_imported(path)), name_of(path)


def test_no_line_of_the_model_asks_which_plan_it_is_in():
    import ast

    from sim.scenario import load_scenario, scenario_names

    plan_names = {plan.name for garden in scenario_names() for plan in load_scenario(garden).plans} - {"nothing", "net"}
    for path in python_files("sim"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Compare):
                said = {part.value for part in ast.walk(node) if isinstance(part, ast.Constant)}
                said = {word for word in said if isinstance(word, str)}
                assert not said & plan_names - ACTION_WORDS, f"{name_of(path)}, line {node.lineno}"


ACTION_WORDS = {"spray_at_threshold", "hand_picking"}
"""Names of plans that are also the words of an action or a task of the gardener."""


FROM_WORDS_TO_SCREENS = (
    "bounds",
    "citing",
    "day_words",
    "language",
    "origins",
    "words",
    "paper",
    "codes",
    "plans",
    "seasons",
    "lesson",
    "charts",
    "results",
    "brought",
    "sharing",
    "server",
    "page",
    "commands",
    "handout",
    "teaching",
    "boards",
    "player",
    "screens",
    "app",
    "command",
)
"""The dashboard's packages and files, from what knows none of the others to what may know them all."""


def part_of(module):
    return module.split(".")[1] if module.startswith("dashboard.") else None


def test_the_order_of_the_dashboard_names_all_of_it():
    there = {part_of(module_of(path)) for path in python_files("dashboard")} - {None}
    assert set(FROM_WORDS_TO_SCREENS) == there, "say in FROM_WORDS_TO_SCREENS where it stands"


def test_imports_in_the_dashboard_run_from_words_to_screens():
    seen = 0
    for path in python_files("dashboard"):
        here = part_of(module_of(path))
        for name in modules_imported(path):
            other = part_of(name)
            if other in FROM_WORDS_TO_SCREENS and other != here:
                seen += 1
                is_below = FROM_WORDS_TO_SCREENS.index(other) < FROM_WORDS_TO_SCREENS.index(here)
                assert is_below, f"{name_of(path)} imports {name}, which stands above it"
    assert seen > 100, "the imports were not found"
