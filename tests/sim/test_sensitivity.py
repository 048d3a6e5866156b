"""Ranges, designs, the study and its ranking."""

import json
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.errors import RunError
from sim.parameters import load_parameters
from sim.parameters.table import parameter_from, sources
from sim.sensitivity import design, leans_on, ranking
from sim.sensitivity.known import mechanism_of, reason_left_alone, rule_for, rules, span_of, spans
from sim.sensitivity.ranking import keep_ranking, leaning_of, stored_ranking, write_ranking
from sim.sensitivity.study import MEASURES, PLANS, TASTE, Effort, Study, make_ranking, order_of_plans
from sim.workers import here
from tests.sim import fake_seasons

TABLE = load_parameters()
EATEN = "moths.cabbage_white.leaf_total_cm2"
LEAK = "nets.edge_leak_share"


def entry(value, low, high):
    raw = {"value": value, "low": low, "high": high, "unit": "x", "source": "none", "evidence": "memory"}
    return parameter_from("made.up.number", raw)


# -- ranges ----------------------------------------------------------------------------------------------------------


def test_half_of_a_range_lies_below_the_value():
    span = span_of(entry(2.0, 1.0, 10.0))
    assert [span.at(place) for place in (0.0, 0.25, 0.5, 0.75, 1.0)] == [1.0, 1.5, 2.0, 6.0, 10.0]


def test_a_row_with_one_pair_of_bounds_keeps_its_shape():
    span = span_of(entry([1.0, 4.0, 2.0], 0.0, 8.0))
    assert span.at(1.0) == (2.0, 8.0, 4.0)
    assert span.at(0.25) == (0.5, 2.0, 1.0)
    halved = span_of(entry([1.0, 4.0, 2.0], 0.5, 8.0))  # the first place can be halved at most, and so can all
    assert halved.at(0.0) == (0.5, 2.0, 1.0)


def test_a_row_with_bounds_for_each_place_moves_each_within_its_own():
    span = span_of(entry([1.0, 4.0], [0.5, 3.0], [2.0, 5.0]))
    assert span.at(0.0) == (0.5, 3.0)
    assert span.at(1.0) == (2.0, 5.0)


def test_what_is_not_there_stays_away():
    assert span_of(entry([0.0, 4.0], 0.0, 8.0)).at(1.0) == (0.0, 8.0)
    assert span_of(entry([0.0, 4.0], [0.0, 3.0], [1.0, 5.0])).at(1.0) == (0.0, 5.0)


@given(place=st.floats(0.0, 1.0))
def test_every_number_stays_within_what_its_entry_allows(place):
    TABLE.with_changes({key: span.at(place) for key, span in spans(TABLE).items()})


def test_at_half_every_number_is_the_one_used():
    changed = TABLE.with_changes({key: span.at(0.5) for key, span in spans(TABLE).items()})
    assert changed.fingerprint == TABLE.fingerprint


def test_every_rule_fits_a_number_and_says_why():
    for rule in rules()["left_alone"] + rules()["narrower"]:
        assert any(rule in (rule_for(key),) or reason_left_alone(key) == rule["why"] for key in TABLE), rule["keys"]
        assert rule["why"]


def test_every_narrower_range_has_evidence_and_lies_within_what_may_be_set():
    for rule in rules()["narrower"]:
        assert rule["source"] == "none" or rule["source"] in sources(), rule["keys"]
        assert rule["evidence"] in ("read", "memory", "common practice", "derived")
    for key, span in spans(TABLE).items():
        for (low, _, high), least, most in zip(TABLE[key].bounds(), span.lows, span.highs, strict=True):
            assert low <= least <= most <= high, key


def test_numbers_that_stand_together_are_one_mechanism():
    assert mechanism_of(EATEN) == "moths.cabbage_white"
    assert mechanism_of("aphids.base_c") == "aphids"


# -- designs ---------------------------------------------------------------------------------------------------------


def test_morris_finds_the_slopes_of_a_plane():
    problem = design.problem_of(["steep", "flat", "none"])
    places = design.morris_places(problem, 5, seed=2)
    effects = design.morris_effects(problem, places, places @ np.array([7.0, -2.0, 0.0]))
    assert [name for name, *_ in effects] == ["steep", "flat", "none"]
    assert [effect for _, effect, _ in effects] == pytest.approx([7.0, 2.0, 0.0])


def test_morris_moves_a_group_as_one():
    problem = design.problem_of(["a", "b", "c"], ["pair", "pair", "single"])
    places = design.morris_places(problem, 4, seed=2)
    assert len(places) == 4 * (2 + 1)
    effects = {row[0]: row[1] for row in design.morris_effects(problem, places, places[:, 2] * 3.0)}
    assert effects == pytest.approx({"pair": 0.0, "single": 3.0})


def test_each_number_goes_to_both_ends_alone():
    places = design.end_places(3)
    assert places.shape == (6, 3)
    assert (np.sort(places, axis=1)[:3] == [0.0, 0.5, 0.5]).all()
    assert (np.sort(places, axis=1)[3:] == [0.5, 0.5, 1.0]).all()
    results = places @ np.array([4.0, -10.0, 0.0])
    found = design.end_effects(["up", "down", "none"], results, stated=-3.0)
    assert found == [("down", 10.0, 2.0, -8.0), ("up", 4.0, -5.0, -1.0), ("none", 0.0, -3.0, -3.0)]
    hump = design.end_effects(["hump"], np.array([1.0, 2.0]), stated=5.0)
    assert hump == [("hump", 4.0, 1.0, 2.0)]  # both ends lie below the middle: it moves although they are near alike


def test_sobol_shares_out_the_spread_of_a_plane():
    """Variances of independent terms add: 9 : 1 for slopes 3 and 1."""
    problem = design.problem_of(["three", "one", "none"])
    places = design.sobol_places(problem, 512, seed=2)
    shares = {name: total for name, _, total, _ in design.sobol_shares(problem, places @ np.array([3.0, 1.0, 0.0]))}
    assert shares == pytest.approx({"three": 0.9, "one": 0.1, "none": 0.0}, abs=0.04)


def test_a_result_that_never_changes_leans_on_nothing():
    problem = design.problem_of(["a", "b"])
    assert design.sobol_shares(problem, np.ones(16)) == [("a", 0.0, 0.0, 0.0), ("b", 0.0, 0.0, 0.0)]


def test_a_spread_of_points_takes_every_strip_once():
    places = design.spread_places(10, 3, seed=1)
    for column in places.T:
        assert sorted((column * 10).astype(int)) == list(range(10))


# -- the study -------------------------------------------------------------------------------------------------------


def season(scenario, plan, seed):
    """Harvest falls with what a larva eats, or under the net with what leaks in; pests grow tenfold for each 10 cm²."""
    if scenario.about:
        fake_seasons.marked(scenario, "nothing", seed)
    numbers = scenario.numbers
    eaten = numbers.get(EATEN, TABLE.number(EATEN))
    leak = numbers.get(LEAK, tuple(TABLE.numbers(LEAK)))[0]
    harvest = 100.0 - eaten if plan != "net" else 90.0 - 100.0 * leak
    summary = {"marketable_kg": harvest, "pest_days_count": 10 ** (eaten / 10) - 1, "bird_food_delivered_g": 1.0}
    summary["marketable_share"] = harvest / 100.0
    if plan != "net":
        summary["egg_to_adult_share"] = 0.1
    return SimpleNamespace(summary=summary)


def study(folder: Path | None = None, about: str = "", effort: Effort = TASTE) -> Study:
    garden = fake_seasons.scenario(about=about)
    plans = [plan.model_copy(update={"name": name}) for plan, name in zip(garden.plans, PLANS, strict=True)]
    garden = garden.model_copy(update={"plans": tuple(plans)})
    return Study(garden, PLANS, effort, store=folder, executor=here(), season=season)


@pytest.fixture(scope="module")
def made():
    return make_ranking(study(effort=Effort(1, 3, 2, 2, 16, 8)))


def test_a_study_finds_what_moves_the_result(made):
    assert made["mechanisms"]["nothing"]["marketable_kg"][0][0] == "moths.cabbage_white"
    assert made["mechanisms"]["net"]["marketable_kg"][0][0] == "nets"
    assert made["numbers"]["nothing"]["marketable_kg"][0][0] == EATEN
    assert made["shares"]["nothing"]["marketable_kg"][0][:1] == [EATEN]
    assert made["shares"]["net"]["marketable_kg"][0][:1] == [LEAK]
    assert made["shares"]["net"]["marketable_kg"][0][2] == pytest.approx(1.0, abs=0.1)


def test_pests_are_compared_by_how_many_times_as_many_they_are(made):
    """From 20 to 60 cm² they go from a hundred to a million, four powers of ten; steps are of two thirds of the range:
    from 20 to 43⅓ cm², or from 30 to 60, which is 3.5 or 4.5 for the whole."""
    name, effect, _ = made["mechanisms"]["nothing"]["pest_days_count"][0]
    assert name == "moths.cabbage_white"
    assert 3.5 <= effect <= 4.5


def test_each_result_tells_of_twenty_numbers_moved_singly_and_of_those_that_went_on(made):
    told = {row[0] for row in made["numbers"]["nothing"]["marketable_kg"]}  # a leak moves nothing without a net
    assert len(told) == 20 + 1
    assert {EATEN, LEAK} < told


def test_where_no_season_has_a_share_the_middle_of_the_other_points_stands_in():
    shares = {20.0: float("nan"), 35.0: 0.2, 47.5: 0.3, 60.0: 0.9}

    def telling(scenario, _plan, _seed):
        summary = dict.fromkeys(MEASURES, 0.0)
        return SimpleNamespace(summary=summary | {"egg_to_adult_share": shares[scenario.numbers[EATEN]]})

    one = study()
    one.season = telling
    found = one.results("x", [EATEN], np.array([[0.0], [0.5], [0.75], [1.0]]), spans(TABLE))
    assert found[:, 0, MEASURES.index("egg_to_adult_share")].tolist() == [0.3, 0.2, 0.3, 0.9]
    assert one.missing == len(PLANS)


def test_a_result_is_the_mean_of_its_seasons_under_its_own_plan():
    def telling(scenario, plan, seed):
        summary = dict.fromkeys(MEASURES, 0.0) | {"marketable_kg": 100.0 * PLANS.index(plan) + seed}
        eggs = {"egg_to_adult_share": float("nan") if seed == 2 else 0.4}  # a season without eggs has no share
        return SimpleNamespace(summary=summary | eggs)

    of_four = study(effort=Effort(seasons=4))
    of_four.season = telling
    found = of_four.results("x", [EATEN], np.full((2, 1), 0.5), spans(TABLE))
    kg = found[:, :, MEASURES.index("marketable_kg")]
    assert kg.tolist() == [[2.5, 102.5, 202.5]] * 2
    assert found[:, :, MEASURES.index("egg_to_adult_share")] == pytest.approx(0.4)  # of the seasons that have one


def test_a_study_says_what_it_could_not_value(made):
    assert made["made"]["results_without_value"] > 0  # the net has no share of eggs that became adults
    assert made["stated"]["net"]["egg_to_adult_share"] == 0.0


def test_a_study_goes_on_where_it_stopped(tmp_path):
    marks = tmp_path / "marks"
    marks.mkdir()
    first = make_ranking(study(tmp_path / "kept", str(marks)))
    ran = len(fake_seasons.runs(marks))
    again = make_ranking(study(tmp_path / "kept", str(marks)))
    assert ran > 100
    assert len(fake_seasons.runs(marks)) == ran
    assert {**first, "made": 0} == {**again, "made": 0}


def test_real_seasons_differ_between_points_and_not_between_runs():
    garden = fake_seasons.scenario(season={"first_day": "04-01", "last_day": "07-01"})
    one = Study(garden, ("nothing", "net"), Effort(seasons=1), executor=here())
    places = np.array([[0.0], [1.0]])
    found = one.results("x", [EATEN], places, spans(TABLE))
    assert found.shape == (2, 2, len(MEASURES))
    assert (found == one.results("x", [EATEN], places, spans(TABLE))).all()
    assert not (found[0, 0] == found[1, 0]).all()


def test_how_often_plans_keep_their_order():
    values = np.array([[3.0, 2.0, 1.0], [2.0, 3.0, 1.0], [3.0, 1.0, 2.0], [3.0, 2.0, 1.0]])
    order = order_of_plans(("a", "b", "c"), values, np.array([9.0, 8.0, 7.0]))
    assert order["stated"] == ["a", "b", "c"]
    assert (order["same_first"], order["same_order"]) == (0.75, 0.5)
    assert order["pairs"] == [["a", "b", 0.75], ["a", "c", 1.0], ["b", "c", 0.75]]


def test_plans_that_are_level_are_not_ahead_of_each_other():
    values = np.array([[2.0, 2.0], [3.0, 1.0]])
    assert order_of_plans(("a", "b"), values, np.array([9.0, 8.0]))["pairs"] == [["a", "b", 0.5]]


def test_without_the_library_a_sentence_says_what_to_install(monkeypatch):
    monkeypatch.setattr(design, "import_module", lambda name: (_ for _ in ()).throw(ImportError(name)))
    with pytest.raises(RunError, match=r"leafnest\[research\]"):
        design.needed("sample.morris")


# -- the ranking that comes with the program ---------------------------------------------------------------------------


def test_the_stored_ranking_speaks_of_numbers_that_are_there():
    stored = stored_ranking()
    assert tuple(stored["made"]["measures"]) == MEASURES
    for by_measure in stored["shares"].values():
        for rows in by_measure.values():
            assert all(row[0] in TABLE for row in rows)


@pytest.mark.parametrize("measure", MEASURES)
@pytest.mark.parametrize("plan", PLANS)
def test_each_result_says_what_it_leans_on(measure, plan):
    found = leans_on(measure, plan)
    assert [one.share for one in found] == sorted((one.share for one in found), reverse=True)
    for one in found:
        assert one.low <= one.value <= one.high
        assert 0 < one.width < one.share, "what may as well be 0 is not told"
    assert leans_on(measure, plan, most=1) == found[:1]


def test_a_leaning_says_between_what_a_number_is_known():
    found = leaning_of(EATEN, 0.5, 0.1)
    assert (found.low, found.value, found.high) == (20, 35, 60)
    assert not found.is_stretched


def test_a_row_is_spoken_of_as_a_whole():
    found = leaning_of("enemies.settled_density_per_m2", 0.5, 0.1)
    assert (found.low, found.value, found.high) == pytest.approx((0.3, 1.0, 3.0))
    assert found.is_stretched


def test_no_number_carries_more_than_the_whole_of_a_spread():
    """A share is reckoned from some points only, and can come out above 1."""
    assert leaning_of(EATEN, 1.04, 0.1).share == 1.0
    assert leaning_of(EATEN, 0.96, 0.1).share == 0.96


def test_unknown_names_are_answered_with_those_near():
    with pytest.raises(RunError, match="nothing"):
        leans_on("marketable_kg", "nothin")
    with pytest.raises(RunError, match="marketable_kg"):
        leans_on("marketable", "nothing")


def test_a_ranking_comes_back_as_it_was_written(tmp_path, made):
    write_ranking(made, tmp_path / "ranking.json")
    assert json.loads((tmp_path / "ranking.json").read_text()) == json.loads(json.dumps(made))


def test_a_ranking_that_is_kept_is_the_one_that_is_read_from_then_on(tmp_path, monkeypatch, made):
    monkeypatch.setattr(ranking, "__file__", str(tmp_path / "ranking.py"))
    monkeypatch.setattr(ranking, "files", lambda _room: tmp_path)
    write_ranking({**made, "stated": "before"}, tmp_path / ranking.FILE)
    stored_ranking.cache_clear()
    try:
        assert stored_ranking()["stated"] == "before"
        keep_ranking({**made, "stated": "after"})
        assert stored_ranking()["stated"] == "after"
    finally:
        stored_ranking.cache_clear()
