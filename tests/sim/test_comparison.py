from __future__ import annotations

import pickle
import threading
from types import SimpleNamespace

import numpy as np
import pytest

import sim.comparison
from sim.comparison import compare, compare_as_they_come, comparison_of
from sim.errors import LeafnestError, RunError
from tests.sim.fake_seasons import fails, scenario, season

pytestmark = pytest.mark.usefixtures("without_running_workers")

MEASURES = {
    "harvest": SimpleNamespace(unit="kg", better="more", words="marketable harvest"),
    "pests": SimpleNamespace(unit="", better="less", words="pests"),
}


@pytest.fixture(autouse=True)
def own_measures(monkeypatch):
    monkeypatch.setattr(sim.comparison, "_measures", lambda: MEASURES)


def test_each_number_is_where_it_belongs():
    found = compare(scenario(), seasons=4, seed=7, season=season)
    assert found.seeds == (7, 8, 9, 10)
    for row in found.seasons.itertuples():
        assert row.value == pytest.approx(season(scenario(), row.plan, row.seed).summary[row.measure], nan_ok=True)
    assert len(found.seasons) == 3 * 4 * 3


def test_table_is_the_mean_and_spread_of_the_seasons():
    found = compare(scenario(), seasons=6, season=season)
    by_hand = found.seasons.groupby(["plan", "measure"], sort=False)["value"]
    table = found.table.set_index(["plan", "measure"])
    assert np.allclose(table["mean"], by_hand.mean())
    assert np.allclose(table["spread"], by_hand.std())
    assert table.loc[("net", "harvest"), "unit"] == "kg"
    assert table.loc[("net", "odd"), "seasons"] == 5  # no value in season 2
    assert ((table["low"] <= table["mean"]) & (table["mean"] <= table["high"])).all()


def test_pairs_are_by_season_and_say_who_is_ahead():
    found = compare(scenario(), ["nothing", "net"], seasons=20, season=season)
    paired = found.paired.set_index("measure")
    both = found.seasons.pivot_table(index="seed", columns=["measure", "plan"], values="value")
    gains = both["harvest", "net"] - both["harvest", "nothing"]
    assert paired.loc["harvest", "difference"] == pytest.approx(gains.mean())
    assert paired.loc["harvest", "ahead"] == (gains > 0).sum()
    assert paired.loc["harvest", "verdict"] == "ahead"
    assert paired.loc["pests", "difference"] < 0
    assert paired.loc["pests", "ahead"] == 20  # fewer is better
    assert paired.loc["odd", "verdict"] == "level"
    assert paired.loc["odd", "level"] == 19


def test_pairing_narrows_the_interval_when_plans_share_the_weather():
    found = compare(scenario(), ["nothing", "net"], seasons=20, season=season)
    pair = found.paired.set_index("measure").loc["harvest"]
    alone = found.table.set_index(["plan", "measure"]).loc[("net", "harvest")]
    assert pair["high"] - pair["low"] < (alone["high"] - alone["low"]) / 2


def test_a_plan_against_itself_by_another_name_is_level_everywhere():
    twins = scenario(plans=[{"name": "nothing", "title": "One"}, {"name": "spray", "title": "Other"}])

    def same(garden, plan, seed):
        return season(garden, "nothing", seed)

    found = compare(twins, seasons=8, season=same)
    assert (found.paired["verdict"] == "level").all()
    assert (found.paired["difference"] == 0).all()
    assert found.paired["more_seasons_needed"].isna().all()


def test_pairs_come_complete_and_in_order():
    order = [(one.plan, one.seed) for one in compare_as_they_come(scenario(), seasons=[5, 3], season=season)]
    assert order == [(plan, seed) for seed in (5, 3) for plan in ("nothing", "net", "spray")]


def test_nothing_runs_before_it_is_asked_for():
    asked = []

    def noting(garden, plan, seed):
        asked.append((plan, seed))
        return season(garden, plan, seed)

    coming = compare_as_they_come(scenario(), seasons=5, season=noting)
    next(coming)
    assert asked == [("nothing", 1)]
    coming.close()
    assert len(asked) == 1


def test_a_first_pair_can_be_drawn_and_then_narrowed():
    finished, widths = [], []
    for one in compare_as_they_come(scenario(), ["nothing", "net"], seasons=12, season=season):
        finished.append(one)
        if one.plan == "net":
            so_far = comparison_of(scenario(), ["nothing", "net"], finished)
            row = so_far.paired.set_index("measure").loc["harvest"]
            widths.append(row["high"] - row["low"])
    assert np.isnan(widths[0])
    assert widths[-1] < widths[1]


def test_progress_is_told():
    told = []
    compare(scenario(), seasons=3, season=season, progress=lambda done, total: told.append((done, total)))
    assert told == [(n, 9) for n in range(1, 10)]


def test_cancelled_keeps_the_whole_pairs():
    cancel = threading.Event()

    def stop_at_eight(done, total):
        if done == 8:
            cancel.set()

    found = compare(scenario(), seasons=20, season=season, progress=stop_at_eight, cancel=cancel)
    assert found.seeds == (1, 2)
    assert not found.is_complete
    assert compare(scenario(), seasons=2, season=season).is_complete


def test_a_season_that_only_some_plans_have_lived_does_not_make_a_comparison_complete():
    cancel = threading.Event()

    def stop_at_eight(done, total):
        if done == 8:
            cancel.set()

    found = compare(scenario(), seasons=3, season=season, progress=stop_at_eight, cancel=cancel)  # of nine
    assert found.seeds == (1, 2)
    assert not found.is_complete


def test_cancelled_before_the_first_pair_is_told():
    cancel = threading.Event()
    cancel.set()
    with pytest.raises(RunError, match="nothing to compare"):
        compare(scenario(), seasons=2, season=season, cancel=cancel)


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        (
            {"plans": ["nett"]},
            "There is no plan 'nett' in 'fake_garden'; allowed: nothing, net, spray",
        ),
        ({"plans": ["net", "net"]}, "The plan 'net' was asked for twice"),
        ({"plans": []}, "No plan was asked for"),
        ({"seasons": 0}, "0 seasons were asked for; at least 1"),
        ({"seasons": -3}, "-3 seasons were asked for"),
        ({"seasons": []}, "No seasons were asked for"),
        ({"seasons": [4, 4]}, "A seed was given twice"),
    ],
)
def test_bad_requests_get_one_sentence(asked, sentence):
    with pytest.raises(LeafnestError, match="^" + sentence.replace("?", r"\?")):
        compare(scenario(), season=season, **asked)


def test_a_fault_of_our_own_is_seen():
    with pytest.raises(ZeroDivisionError):
        compare(scenario(), seasons=2, season=fails)


def test_comparisons_can_be_kept():
    found = compare(scenario(), seasons=3, season=season)
    again = pickle.loads(pickle.dumps(found))
    assert again.paired.equals(found.paired)
    assert found.provenance["seeds"] == [1, 2, 3]
    assert found.provenance["scenario_fingerprint"] == scenario().fingerprint
