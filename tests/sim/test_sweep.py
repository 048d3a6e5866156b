from __future__ import annotations

import json
import threading
from types import SimpleNamespace

import numpy as np
import pytest

import sim.comparison
from sim.comparison import compare
from sim.curve_words import _peak, _steepest, curve_in_words
from sim.errors import LeafnestError, OutputError, RunError, ScenarioError
from sim.settings import Setting, change_from, setting_from
from sim.sweep import points_of, sweep, sweep_as_they_come
from sim.workers import Processes
from tests.sim import fake_seasons as fake

pytestmark = pytest.mark.usefixtures("without_running_workers")

LATE = "plans.net.actions.0.days_after_planting"
MEASURES = {
    "harvest": SimpleNamespace(unit="kg", better="more", words="marketable harvest"),
    "pests": SimpleNamespace(unit="", better="less", words="pests"),
}


@pytest.fixture(autouse=True)
def own_measures(monkeypatch):
    monkeypatch.setattr(sim.comparison, "_measures", lambda: MEASURES)


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("k=0:35:8", (0, 5, 10, 15, 20, 25, 30, 35)),
        ("k=0:1:3", (0.0, 0.5, 1.0)),
        ("k=0.1:0.4:4", (0.1, 0.2, 0.3, 0.4)),
        ("k=-3:5:3", (-3, 1, 5)),
        ("k=04-01:05-01:3", ("04-01", "04-16", "05-01")),
        ("k=02-20:03-05:2", ("02-20", "03-05")),
        ("k=04-29:05-01:3", ("04-29", "04-30", "05-01")),
        ("k=1,2.5,4", (1, 2.5, 4)),
        ("k=veil, row_cover", ("veil", "row_cover")),
        ("k=true,false", (True, False)),
        ("k=dusk", ("dusk",)),
    ],
)
def test_settings_are_read(text, values):
    found = setting_from(text)
    assert found.values == values
    assert [type(value) for value in found.values] == [type(value) for value in values]


@pytest.mark.parametrize(
    ("text", "is_ordered"),
    [
        ("k=1,2.5,4", True),
        ("k=04-01,05-01", True),
        ("k=4,1", False),
        ("k=05-01,04-01", False),
        ("k=bird_net,veil", False),  # names in the order of the alphabet are no curve
        ("k=false,true", False),
    ],
)
def test_values_in_order_are_numbers_or_dates_that_rise(text, is_ordered):
    assert setting_from(text).is_ordered is is_ordered


def test_keys_can_move_together():
    assert setting_from("a.b+c.d=1,2").keys == ("a.b", "c.d")


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("pests.arrivals=4:0:5", "'pests.arrivals=4:0:5' is upside down: 4 is not below 0"),
        ("k=05-01:04-01:3", "is upside down: 05-01 is not below 04-01"),
        ("k=3:3:2", "is upside down"),
        ("k", "'k' is no setting to vary; say KEY=LOW:HIGH:STEPS"),
        ("=1,2", "A setting has no key"),
        ("a+=1,2", "A setting has no key"),
        ("k=", "has an empty value"),
        ("k=1,,2", "has an empty value"),
        ("k=1:2", "has 2 parts between colons"),
        ("k=1:2:3:4", "has 4 parts between colons"),
        ("k=0:1:1", "has '1' for its steps; a whole number from 2"),
        ("k=0:1:many", "has 'many' for its steps"),
        ("k=0:1:2.5", "has '2.5' for its steps"),
        ("k=a:b:3", "both must be numbers, or both dates"),
        ("k=02-30:03-05:3", "a day that is not in the calendar"),
        ("k=04-01:04-03:8", "asks for 8 days of the 3"),
        ("k=1,2,2", "has the value 2 twice"),
    ],
)
def test_bad_settings_get_one_sentence(text, sentence):
    with pytest.raises(RunError) as told:
        setting_from(text)
    assert sentence in str(told.value)
    assert str(told.value).count("\n") == 0


@pytest.mark.parametrize("text", ["k", "k=", "=1", "a+=1", "k=1,2", "pests.arrivals=0:4:5"])
def test_a_change_is_one_value_of_one_setting(text):
    with pytest.raises(RunError, match="is no change; say KEY=VALUE, such as"):
        change_from(text)


def test_a_change_may_move_settings_together():
    assert change_from("a.b+c.d = 04-15") == {"a.b": "04-15", "c.d": "04-15"}


def test_every_point_is_the_comparison_of_that_garden():
    late = setting_from(f"{LATE}=0:20:3")
    found = sweep(fake.scenario(), [late], ["nothing", "net"], seasons=5, season=fake.season)
    for days in (0, 10, 20):
        alone = compare(fake.scenario().with_changes({LATE: days}), ["nothing", "net"], seasons=5, season=fake.season)
        at = found.table[found.table[LATE] == days].drop(columns=LATE).reset_index(drop=True)
        assert at.equals(alone.table)
    assert list(found.table.columns[:3]) == [LATE, "plan", "measure"]
    assert len(found.table) == 3 * 2 * 3
    assert len(found.seasons) == 3 * 2 * 5 * 3


def test_same_luck_along_the_curve():
    late = setting_from(f"{LATE}=0:20:3")
    found = sweep(fake.scenario(), [late], seasons=5, season=fake.season)
    along = found.along.set_index([LATE, "plan", "measure"])
    assert along.loc[(20, "net", "harvest"), "difference"] == pytest.approx(-2.0)
    assert along.loc[(20, "net", "harvest"), "high"] == pytest.approx(-2.0)
    assert along.loc[(20, "nothing", "harvest"), "verdict"] == "level"


def test_what_a_setting_does_not_touch_is_run_once(tmp_path):
    garden = fake.scenario(about=str(tmp_path))
    sweep(garden, [setting_from(f"{LATE}=0:35:8")], ["nothing", "net"], seasons=2, season=fake.marked)
    runs = fake.runs(tmp_path)
    assert runs.count(("nothing", 1)) == 1
    assert runs.count(("net", 1)) == 8


def test_two_settings_make_a_grid_and_the_whole_of_it_comes_first():
    settings = [setting_from(f"{LATE}=0,10"), setting_from("pests.arrivals=1:3:3")]
    assert points_of(settings) == [(0, 1), (0, 2), (0, 3), (10, 1), (10, 2), (10, 3)]
    coming = list(sweep_as_they_come(fake.scenario(), settings, ["net"], seasons=2, season=fake.season))
    assert [one.season.seed for one in coming] == [1] * 6 + [2] * 6
    assert [one.point for one in coming[:6]] == points_of(settings)
    found = sweep(fake.scenario(), settings, ["net"], seasons=2, season=fake.season)
    assert list(found.table.columns[:2]) == [LATE, "pests.arrivals"]


def test_each_row_of_a_grid_stands_under_the_values_it_was_run_with():
    def telling(garden, plan, seed):
        late = garden.plans[1].actions[0].days_after_planting
        return fake.FakeSeason({"harvest": 100.0 * late + garden.pests.arrivals})

    settings = [setting_from(f"{LATE}=1,2,3"), setting_from("pests.arrivals=1:3:3")]
    found = sweep(fake.scenario(), settings, ["nothing", "net"], seasons=2, season=telling)
    for table, figure in ((found.seasons, "value"), (found.table, "mean")):
        rows = table[table["plan"] == "net"]
        assert len(rows) >= 9
        assert (rows[figure] == 100.0 * rows[LATE] + rows["pests.arrivals"]).all()
    first_less = found.along[found.along["plan"] == "net"]
    assert (first_less["difference"] == 100.0 * (first_less[LATE] - 1) + first_less["pests.arrivals"] - 1).all()


def test_same_sweep_whoever_works_and_resumed_from_disk(tmp_path):
    settings = [setting_from("pests.arrivals=0:4:5")]
    garden = fake.scenario()
    here = sweep(garden, settings, seasons=4, season=fake.season)
    with Processes(2) as pool:
        away = sweep(garden, settings, seasons=4, season=fake.season, executor=pool, store=tmp_path)
    assert away.seasons.equals(here.seasons)
    again = sweep(garden, settings, seasons=4, season=fake.fails, store=tmp_path)  # nothing left to run
    assert again.seasons.equals(here.seasons)


@pytest.mark.parametrize(
    ("texts", "error", "sentence"),
    [
        (["pest.arrivals=1,2"], ScenarioError, "There is no setting 'pest.arrivals'"),
        (["pest.arrivals=1,2"], ScenarioError, "Did you mean 'pests.arrivals'"),
        (["pests.arrivals=-1,2"], ScenarioError, "pests.arrivals"),
        ([f"{LATE}=0.5,1"], ScenarioError, "days_after_planting"),
        (["place.climate=warm_humid,polar"], ScenarioError, "polar"),
        ([], RunError, "No setting was given"),
        (["pests.arrivals=1,2", "pests.arrivals=3,4"], RunError, "'pests.arrivals' is varied twice"),
        (["plans.spray.actions=1,2"], RunError, "belongs to plan 'spray', which is not among those run"),
        (["plans.2.actions=1,2"], RunError, "'plans.2.actions' belongs to plan 'spray', which is not among those run"),
        (["plans.nett.actions.cover.delay_days=1,2"], ScenarioError, "Did you mean 'plans.net.actions.cover.delay_day"),
    ],
)
def test_bad_sweeps_get_one_sentence_before_anything_runs(texts, error, sentence):
    with pytest.raises(error) as told:
        sweep(fake.scenario(), [setting_from(text) for text in texts], ["nothing", "net"], seasons=1, season=fake.fails)
    assert isinstance(told.value, LeafnestError)
    assert sentence in str(told.value)


def test_a_slip_of_the_finger_is_told():
    many = [Setting((f"k{n}",), tuple(range(100))) for n in range(3)]
    with pytest.raises(RunError, match="1,000,000 points; at most 100,000"):
        points_of(many)


def words(text, measure="harvest", plan="net", seasons=20, season=fake.season):
    found = sweep(fake.scenario(), [setting_from(part) for part in text.split()], seasons=seasons, season=season)
    return curve_in_words(found, measure, plan)


def test_sentence_of_a_falling_curve():
    text = words(f"{LATE}=0:30:4")
    assert text.startswith(f"Marketable harvest, under 'net': as {LATE} goes from 0 to 30, it falls from ")
    assert "kg (lower in 20 of 20 seasons; a change of -3 to -3 kg)." in text
    assert "-0.1 kg for each 1." in text


def test_sentence_of_a_flat_line():
    assert words(f"{LATE}=0:30:4", plan="nothing").endswith("kg in every season.")


def test_sentence_when_too_close_to_call():
    def noisy(garden, plan, seed):
        luck = np.random.default_rng([seed, int(garden.pests.arrivals)]).normal(10, 1)
        return fake.FakeSeason({"harvest": float(luck)})

    text = words("pests.arrivals=1:2:2", season=noisy)
    assert "does not change in a way that 20 seasons can tell" in text


def test_sentence_of_a_hump_names_its_top():
    def hump(garden, plan, seed):
        return fake.FakeSeason({"harvest": 10.0 - (garden.pests.arrivals - 2) ** 2 + seed})

    text = words("pests.arrivals=0:5:6", season=hump)
    assert "In between it is higher than at both ends: 20.5 kg at 2." in text
    assert "fastest between 4 and 5: -5 kg" in text


@pytest.mark.statistical
def test_what_is_picked_from_a_curve_is_seldom_luck():
    """The highest point and the steepest step are picked out of many: held to the limit of one pair, they come twice
    to five times as often by luck (of seven points and twenty seasons: 7 and 21 of 100)."""
    setting = Setting(("a",), tuple(range(7)))
    chance = np.random.default_rng(4)
    peaks, steps = [], []
    for rows in chance.normal(10, 3, size=(400, 7, 20)):
        steps.append(_steepest(setting, list(rows), "harvest") != "")
        rows[0] -= 30  # rises at once, then lies flat: no point between is higher than the last
        peaks.append(_peak(list(rows)) is not None)
    assert np.mean(peaks) <= 1 / 20
    assert np.mean(steps) <= 1 / 20


def test_sentence_of_dates_counts_days():
    def by_day(garden, plan, seed):
        month, day = map(int, garden.beds[0].planted.split("-"))
        return fake.FakeSeason({"harvest": 5.0 + seed + (month - 4) * 30 + day})

    text = words("beds.kale.planted=04-01:04-29:3", season=by_day)
    assert "rises from" in text
    assert "+1 kg a day." in text


def test_sentence_of_names_holds_each_against_the_first():
    def by_mesh(garden, plan, seed):
        gain = {"veil": 1.0, "fine_mesh": 1.0, "bird_net": -3.0}[garden.plans[1].actions[0].material]
        return fake.FakeSeason({"harvest": 9.5 + seed + gain})

    text = words("plans.net.actions.0.material=veil,fine_mesh,bird_net", season=by_mesh)
    assert text.startswith("Marketable harvest, under 'net': with plans.net.actions.0.material = veil it is 21 kg;")
    assert "with fine_mesh it stays at 21 kg in every season" in text
    assert "with bird_net it falls from 21 to 17 kg (lower in 20 of 20 seasons" in text


def test_sentence_of_two_settings_weighs_each():
    text = words(f"{LATE}=0,10 pests.arrivals=1,2")
    assert text.count("averaged over") == 2
    assert "a change of -1 to -1 kg" in text


def test_each_of_two_settings_is_told_from_its_first_value_to_its_last_over_all_values_of_the_other():
    late, pests = words(f"{LATE}=1,2,3 pests.arrivals=1,2,4").split("; averaged")
    assert f"with {LATE} from 1 to 3 it falls" in late
    assert "a change of -0.2 to -0.2 kg" in late  # a tenth of a kilogram a day
    assert "with pests.arrivals from 1 to 4 it falls" in pests
    assert "a change of -3 to -3 kg" in pests
    fewest_pests_first = words(f"pests.arrivals=1,2,4 {LATE}=1,2,3").split("; averaged")
    assert "a change of -3 to -3 kg" in fewest_pests_first[0]


def test_the_mean_over_the_other_setting_is_of_all_its_points():
    def product(garden, plan, seed):
        return fake.FakeSeason({"harvest": garden.plans[1].actions[0].days_after_planting * garden.pests.arrivals})

    text = words(f"{LATE}=1,2,3 pests.arrivals=1,2,6", season=product)
    assert "it rises from 3 to 9 kg" in text  # 1 and 3 times the mean of 1, 2 and 6
    assert "it rises from 2 to 12 kg" in text  # 1 and 6 times the mean of 1, 2 and 3


def test_sentence_about_what_is_not_there_is_told():
    with pytest.raises(RunError, match=r"no measure 'harvst'.*Did you mean 'harvest'"):
        words("pests.arrivals=1,2", measure="harvst", seasons=1)
    with pytest.raises(RunError, match="no plan 'nets'"):
        words("pests.arrivals=1,2", plan="nets", seasons=1)


def test_cancelled_sweep_keeps_the_seasons_that_every_point_has():
    cancel = threading.Event()

    def stop(done, total):
        if done >= 9:
            cancel.set()

    found = sweep(
        fake.scenario(), [setting_from("pests.arrivals=1:4:4")], ["net"], seasons=50,
        season=fake.season, cancel=cancel, progress=stop,
    )  # fmt: skip
    assert found.seeds == (1, 2)
    assert not found.provenance["is_complete"]


def test_a_cancelled_sweep_holds_every_plan_in_the_same_seasons_at_every_point():
    for stop_after in range(8, 16):  # between the first season of all and the second
        cancel = threading.Event()

        def stop(done, total, after=stop_after, cancel=cancel):
            if done >= after:
                cancel.set()

        found = sweep(
            fake.scenario(), [setting_from("pests.arrivals=1:4:4")], ["nothing", "net"], seasons=2,
            season=fake.season, cancel=cancel, progress=stop,
        )  # fmt: skip
        assert {one.seeds for one in found.comparisons.values()} == {(1,)}


def test_a_measure_that_some_points_lack_has_no_value_there():
    def without(garden, plan, seed):
        extra = {"harvest": 1.0 * seed} if garden.pests.arrivals else {}
        return fake.FakeSeason({"other": 2.0, **extra})

    found = sweep(fake.scenario(), [setting_from("pests.arrivals=0,1")], ["net"], seasons=3, season=without)
    assert found.measures == ("harvest", "other")  # in the order of the list of measures
    table = found.table.set_index(["pests.arrivals", "measure"])
    assert np.isnan(table.loc[(0, "harvest"), "mean"])
    assert table.loc[(0, "harvest"), "seasons"] == 0
    assert table.loc[(1, "harvest"), "mean"] == 2.0
    assert "has no value in these seasons" in curve_in_words(found, "harvest", "net")


def test_parquet_holds_the_table_and_its_record(tmp_path):
    import pyarrow.parquet

    found = sweep(fake.scenario(), [setting_from("pests.arrivals=0:4:3")], seasons=2, season=fake.season)
    found.write_parquet(tmp_path / "sweep.parquet")
    back = pyarrow.parquet.read_table(tmp_path / "sweep.parquet")
    assert back.to_pandas().equals(found.table)
    assert json.loads(back.schema.metadata[b"run"])["settings"] == {"pests.arrivals": [0, 2, 4]}
    with pytest.raises(OutputError, match="cannot be written"):
        found.write_parquet(tmp_path / "nowhere" / "sweep.parquet")
    assert [path.name for path in tmp_path.iterdir()] == ["sweep.parquet"]
