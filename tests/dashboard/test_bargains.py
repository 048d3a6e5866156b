"""Bargains can be read, are judged by what the seasons say, and each can be struck by somebody."""

import pytest

from dashboard.plans.bargains import SEASONS, WORDS, Term, bargains, bargains_of, verdict_sentence
from sim.comparison import compare
from sim.measures import MEASURES
from sim.scenario import load_scenario


def test_terms_speak_of_measures_that_the_model_reports_and_have_one_limit_each():
    for bargain in bargains():
        assert bargain.garden in {"teaching_garden", "leaf_bed", "cucumber_bed"}
        assert len(bargain.terms) > 1
        for term in bargain.terms:
            assert {term.measure, term.over or term.measure} <= set(MEASURES)
            assert term.measure in WORDS
            assert (term.at_least is None) != (term.at_most is None)
    assert len(bargains_of("teaching_garden")) >= 3
    assert bargains_of("no such garden") == {}


def test_a_term_is_held_to_its_limit_and_says_it():
    share = Term("collard_marketable_kg", over="collard_harvest_kg", at_least=0.9)
    assert share.holds_in({"collard_marketable_kg": 9.0, "collard_harvest_kg": 10.0})
    assert not share.holds_in({"collard_marketable_kg": 8.9, "collard_harvest_kg": 10.0})
    assert not share.holds_in({"collard_marketable_kg": 0.0, "collard_harvest_kg": 0.0})
    assert share.words == "collards fit to sell, of those picked: 90 of 100 or more"
    most = Term("labour_minutes", at_most=300)
    assert most.holds_in({"labour_minutes": 300.0})
    assert not most.holds_in({"labour_minutes": 301.0})
    assert not most.holds_in({})
    assert Term("marketable_kg", at_least=48).words == "harvest fit to sell: 48 kg or more"


def test_all_terms_must_hold_in_the_same_season():
    bargain = next(one for one in bargains() if one.name == "cucumbers_without_bees")
    half = [{"marketable_kg": 20.0, "flower_visits_count": 900.0}, {"marketable_kg": 1.0, "flower_visits_count": 0.0}]
    both = {"marketable_kg": 20.0, "flower_visits_count": 0.0}
    assert bargain.held(half * 10) == 0
    assert bargain.is_struck(half * 10) is False
    assert bargain.is_struck([both] * SEASONS) is True
    assert bargain.is_struck([both] * (SEASONS - 1)) is None
    assert "Not struck yet" in verdict_sentence(bargain, half * 10)
    assert verdict_sentence(bargain, [both]) == "All of it held in 1 of 1 season."


@pytest.mark.slow
@pytest.mark.parametrize("bargain", bargains(), ids=lambda one: one.name)
def test_each_bargain_is_struck_by_the_setting_that_was_found(bargain):
    garden = load_scenario(bargain.garden)
    plan, changes = bargain.known_way(garden)
    found = compare(garden.with_changes(changes), [plan], SEASONS)
    rows = [dict(zip(found.measures, found.values[0, season], strict=True)) for season in range(SEASONS)]
    assert bargain.is_struck(rows), verdict_sentence(bargain, rows)


@pytest.mark.slow
def test_doing_nothing_strikes_no_bargain():
    for garden in {bargain.garden for bargain in bargains()}:
        found = compare(load_scenario(garden), ["nothing"], SEASONS)
        rows = [dict(zip(found.measures, found.values[0, season], strict=True)) for season in range(SEASONS)]
        assert not [one.name for one in bargains_of(garden).values() if one.is_struck(rows)]
