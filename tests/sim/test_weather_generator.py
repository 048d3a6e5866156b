from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from sim.errors import WeatherError
from sim.parameters import sources
from sim.parameters.table import EVIDENCE
from sim.randomness import stream_key
from sim.weather.climate import DAYS_OF_MONTH, load_climates
from sim.weather.generator import gamma_amount, generate_weather
from sim.weather.usual import MEANS, months_of, rain_of, usual_days

CLIMATES = load_climates()
YEAR = date(2023, 1, 1), date(2023, 12, 31)
names = st.sampled_from(sorted(CLIMATES))


def test_three_climates_have_twelve_sourced_months():
    assert sorted(CLIMATES) == ["cool_maritime", "dry_summer_maritime", "warm_humid"]
    for climate in CLIMATES.values():
        assert [month.month for month in climate.months] == list(range(1, 13))
        assert climate.title
        assert climate.data_from
        for month in climate.months:
            assert month.source in sources()
            assert month.evidence in EVIDENCE
            assert 0 < month.wet_after_dry_share < month.wet_share < 1
            assert month.wet_after_wet_share < 1
            assert month.tmin_c < month.tmax_c


@settings(max_examples=25, deadline=None)
@given(names, st.integers(0, 2**40), st.dates(date(1950, 1, 1), date(2100, 1, 1)), st.integers(0, 500))
def test_a_day_depends_on_seed_and_date_only(name, seed, first, count):
    last = first + timedelta(days=count)
    short = generate_weather(CLIMATES[name], first, last, seed)
    long = generate_weather(CLIMATES[name], first - timedelta(days=400), last + timedelta(days=30), seed)
    assert short.days.tobytes() == long.window(first, last).days.tobytes()


@settings(max_examples=25, deadline=None)
@given(names, st.integers(0, 2**40), st.floats(-8, 8), st.floats(0, 3))
def test_every_day_is_possible(name, seed, warmer_c, wetter):
    climate = CLIMATES[name]
    days = generate_weather(climate, *YEAR, seed, warmer_c=warmer_c, wetter=wetter).days
    assert len(days) == 365
    assert (days["tmax_c"] - days["tmin_c"] >= 1 - 1e-9).all()
    assert (days["rain_mm"][days["is_wet"] == 1] >= climate.wet_from_mm).all()
    assert (days["rain_mm"][days["is_wet"] == 0] == 0).all()
    assert (days["clear_share"] > 0).all()
    assert (days["clear_share"] <= 1).all()
    assert (days["radiation_mj_m2"] > 0).all()
    assert np.array_equal(days["day"], np.arange(365))
    assert np.array_equal(days["day_of_year"], np.arange(1, 366))
    assert all(np.isfinite(days[field]).all() for field in days.dtype.names)


def test_seeds_and_years_differ():
    one, two = (generate_weather(CLIMATES["warm_humid"], *YEAR, seed).days for seed in (1, 2))
    later = generate_weather(CLIMATES["warm_humid"], date(2022, 1, 1), date(2022, 12, 31), 1).days
    assert not np.array_equal(one["tmax_c"], two["tmax_c"])
    assert not np.array_equal(one["tmax_c"], later["tmax_c"])


@pytest.mark.statistical
@pytest.mark.parametrize("name", CLIMATES)
def test_new_year_is_a_night_like_any_other(name):
    """A cold evening is followed by a cold morning also where two years, each drawn by itself, meet."""
    years = range(1801, 2001)
    days = generate_weather(CLIMATES[name], date(years[0], 1, 1), date(years[-1], 12, 31), 7).days["tmin_c"]
    starts = np.array([(date(year, 1, 1) - date(years[0], 1, 1)).days for year in years[1:]])
    over_new_year, two_nights_later = (np.corrcoef(days[at - 1], days[at])[0, 1] for at in (starts, starts + 2))
    assert two_nights_later > 0.4
    assert over_new_year == pytest.approx(two_nights_later, abs=0.2)  # of 200 nights each


def test_warmer_shifts_temperatures_and_leaves_the_luck():
    plain = generate_weather(CLIMATES["warm_humid"], *YEAR, 5).days
    warm = generate_weather(CLIMATES["warm_humid"], *YEAR, 5, warmer_c=2.0).days
    assert warm["tmax_c"] == pytest.approx(plain["tmax_c"] + 2.0)
    assert warm["tmin_c"] == pytest.approx(plain["tmin_c"] + 2.0)
    assert np.array_equal(warm["rain_mm"], plain["rain_mm"])
    assert np.array_equal(warm["radiation_mj_m2"], plain["radiation_mj_m2"])


@pytest.mark.parametrize("wetter", [0.5, 2.0])
def test_wetter_multiplies_rain_and_moves_wet_days_by_its_root(wetter):
    period = date(1901, 1, 1), date(2000, 12, 31)
    plain = generate_weather(CLIMATES["warm_humid"], *period, 5).days
    other = generate_weather(CLIMATES["warm_humid"], *period, 5, wetter=wetter).days
    assert other["rain_mm"].sum() / plain["rain_mm"].sum() == pytest.approx(wetter, rel=0.04)
    assert other["is_wet"].sum() / plain["is_wet"].sum() == pytest.approx(wetter**0.5, rel=0.03)


def test_no_rain_falls_in_a_climate_without_rain():
    assert generate_weather(CLIMATES["cool_maritime"], *YEAR, 1, wetter=0.0).days["rain_mm"].sum() == 0


@given(names, st.integers(0, 11), st.floats(0.05, 3.0))
def test_a_wetter_chain_keeps_its_persistence_and_mean_rain(name, place, wetter):
    month = CLIMATES[name].months[place]
    wet_share, after_dry, after_wet, shape, scale_mm = rain_of(month, wetter, 0.95)
    assert 0 <= after_dry <= after_wet <= 1
    assert after_wet - after_dry == pytest.approx(month.persistence)
    assert after_dry / (1 - after_wet + after_dry) == pytest.approx(wet_share)
    month_rain_mm = wet_share * shape * scale_mm * DAYS_OF_MONTH[place]
    assert month_rain_mm == pytest.approx(wetter * month.rain_mm)


def test_a_month_that_is_wetter_than_a_wetter_climate_may_get_stays_as_it_is():
    month = CLIMATES["cool_maritime"].months[0]
    assert month.wet_share > 0.1
    assert rain_of(month, 1.0, wettest_share=0.1)[0] == month.wet_share
    assert rain_of(month, 2.0, wettest_share=0.1)[0] == month.wet_share


@pytest.mark.parametrize("days_in_year", [365, 366])
def test_lines_between_months_keep_each_months_mean(days_in_year):
    months = months_of(days_in_year)
    for climate in CLIMATES.values():
        usual = usual_days(climate, days_in_year, warmer_c=0.0, wetter=1.0, wettest_share=0.95, darkest_share=0.05)
        for name in MEANS:
            line = usual[name]
            means = [line[months == month].mean() for month in range(12)]
            assert means == pytest.approx([getattr(month, name) for month in climate.months])
            steps = np.abs(np.diff(np.append(line, line[0])))
            assert steps.max() < 0.5  # a line without jumps, the year's end included


@pytest.mark.parametrize("shape", [0.23, 0.65, 1.0, 2.5])
def test_amounts_follow_the_gamma_distribution(shape):
    key = stream_key(3, "amounts")
    amounts = np.array([gamma_amount(shape, key, day) for day in range(5_000)])
    assert stats.kstest(amounts, stats.gamma(shape).cdf).pvalue > 1e-4


def test_bad_requests_are_refused_in_one_sentence():
    climate = CLIMATES["warm_humid"]
    with pytest.raises(WeatherError, match="before it starts"):
        generate_weather(climate, date(2024, 5, 2), date(2024, 5, 1), 1)
    with pytest.raises(WeatherError, match="warmer_c is 20; -8 to 8 is allowed"):
        generate_weather(climate, *YEAR, 1, warmer_c=20)
    with pytest.raises(WeatherError, match="wetter is -1; 0 to 3 is allowed"):
        generate_weather(climate, *YEAR, 1, wetter=-1)
    with pytest.raises(WeatherError, match="wetter is nan"):
        generate_weather(climate, *YEAR, 1, wetter=float("nan"))


def test_origin_says_what_was_drawn():
    weather = generate_weather(CLIMATES["cool_maritime"], *YEAR, 1, warmer_c=-1.5, wetter=1.2)
    assert "Cool and maritime" in weather.origin
    assert weather.origin.endswith(", 1.5 °C colder, 1.2 times the rain")


def test_windows_count_from_zero_and_stay_inside():
    weather = generate_weather(CLIMATES["warm_humid"], *YEAR, 1)
    season = weather.window(date(2023, 3, 1), date(2023, 11, 15))
    assert (len(season), season.first_date, season.last_date) == (260, date(2023, 3, 1), date(2023, 11, 15))
    assert season.days["day"][0] == 0
    assert season.days["day_of_year"][0] == 60
    assert weather.days["day"][59] == 59
    with pytest.raises(WeatherError, match="runs from 2023-01-01 to 2023-12-31"):
        weather.window(date(2022, 12, 31), date(2023, 2, 1))
    with pytest.raises(WeatherError, match="2023-12-01 to 2024-01-01 was asked for"):
        weather.window(date(2023, 12, 1), date(2024, 1, 1))
    with pytest.raises(WeatherError, match="before it starts"):
        weather.window(date(2023, 3, 2), date(2023, 3, 1))
