"""Titles are somebody's own words: the terminal prints them as they stand, brackets and colons too."""

from types import SimpleNamespace

import pandas as pd
import pytest

from dashboard.commands import tables
from dashboard.commands.leanings import print_leanings
from dashboard.commands.sweep_results import print_sweep
from dashboard.commands.tables import print_comparison, print_scenarios, print_season
from sim.scenario import load_scenario
from sim.sensitivity.ranking import stored_ranking
from sim.settings import setting_from
from sim.sweep import sweep_of
from tests.dashboard.invented import TITLES, comparison

TITLE = "My [north] bed [/b] :bee: [link=x]"


@pytest.fixture
def garden():
    plain = load_scenario("leaf_bed")
    plans = tuple(plan.model_copy(update={"title": f"{plan.name} {TITLE}"}) for plan in plain.plans)
    return plain.model_copy(update={"title": TITLE, "about": f"About {TITLE}", "plans": plans})


def test_in_a_season(capsys, garden):
    fates = pd.DataFrame({"fate": ["grown"], "species": ["aphid"], "count": [3]})
    season = SimpleNamespace(provenance={"seed": 1, "weather_notes": []}, summary={"harvest_kg": 1.0}, fates=fates)
    print_season(season, garden, "net")
    assert f"{TITLE}: plan 'net'" in capsys.readouterr().out


def test_in_a_comparison_its_sentences_too(capsys, garden):
    print_comparison(comparison(), garden, list(TITLES))
    out = " ".join(capsys.readouterr().out.split())
    assert f"{TITLE}: 3 plans" in out
    assert f"net {TITLE}" in out


def test_in_a_sweep(capsys, garden):
    setting = setting_from("pests.arrivals=0,1")
    invented = comparison(("net",), 2)
    rows = [
        ("net", seed, dict(zip(invented.measures, invented.values[0, place], strict=True)))
        for place, seed in enumerate(invented.seeds)
    ]
    finished = {(value,): [SimpleNamespace(plan=p, seed=s, summary=m) for p, s, m in rows] for value in (0, 1)}
    print_sweep(sweep_of(garden, [setting], ["net"], finished), garden, ["marketable_kg"])
    assert f"{TITLE}: the same 2 seasons" in capsys.readouterr().out


def test_in_the_list_of_gardens(capsys, garden):
    print_scenarios([garden])
    out = " ".join(capsys.readouterr().out.split())
    assert f"leaf_bed {TITLE} About {TITLE}" in out
    assert f"net {TITLE}" in out


def test_units_in_brackets_stand_in_the_titles_of_the_study(capsys):
    print_leanings(stored_ranking(), "net", "marketable_kg")
    assert "[kg]" in capsys.readouterr().out


def test_on_the_progress_bar(capsys, monkeypatch):
    monkeypatch.setattr("sys.stderr.isatty", lambda: True, raising=False)
    monkeypatch.setenv("COLUMNS", "200")
    monkeypatch.setenv("TERM", "xterm")
    with tables.progress_bar(TITLE) as report:
        report(1, 2)
    assert TITLE in capsys.readouterr().err
