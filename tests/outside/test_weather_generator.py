"""Drawn weather against the records it is drawn from, and against days that it has never seen."""

from datetime import date
from functools import cache
from pathlib import Path

import numpy as np
import pytest
import vega_datasets

from sim.parameters import load_parameters
from sim.randomness import normal, stream_key
from sim.weather.climate import load_climates
from sim.weather.files import read_weather
from sim.weather.generator import generate_weather
from tests.outside.register import check

YEARS = 200
CLIMATES = ("warm_humid", "cool_maritime", "dry_summer_maritime")


def months_of(weather):
    dates = np.datetime64(weather.first_date) + np.arange(len(weather))
    return dates.astype("M8[M]").astype(int) % 12 + 1


@cache
def two_hundred_years(name):
    weather = generate_weather(load_climates()[name], date(1801, 1, 1), date(1800 + YEARS, 12, 31), seed=1)
    return weather.days, months_of(weather)


def yearly(name, month, field, gather=np.mean):
    """One figure a year: the month's mean or sum."""
    days, months = two_hundred_years(name)
    years = (np.datetime64("1801-01-01") + np.arange(len(days))).astype("M8[Y]").astype(int)
    chosen = months == month
    return np.array([gather(days[field][chosen & (years == year)]) for year in np.unique(years)])


def july(name, field):
    days, months = two_hundred_years(name)
    return days[field][months == 7]


@check("July at Griffin: means of 200 drawn years", source="griffin_climate", read="read: data", independent=False)
def test_warm_humid_july():
    assert july("warm_humid", "tmax_c").mean() == pytest.approx(31.8, abs=0.3)
    assert july("warm_humid", "tmin_c").mean() == pytest.approx(20.8, abs=0.3)
    assert july("warm_humid", "radiation_mj_m2").mean() == pytest.approx(21.8, abs=0.5)
    assert july("warm_humid", "rain_mm").sum() / YEARS == pytest.approx(110.3, rel=0.08)
    assert july("warm_humid", "is_wet").sum() / YEARS == pytest.approx(12.2, abs=0.5)


@check(
    "July at De Bilt: means of 200 drawn years, wet days cooler",
    source="debilt_climate",
    read="read: data",
    independent=False,
)
def test_cool_maritime_july():
    tmax, is_wet = july("cool_maritime", "tmax_c"), july("cool_maritime", "is_wet") == 1
    assert tmax.mean() == pytest.approx(21.4, abs=0.3)
    assert july("cool_maritime", "tmin_c").mean() == pytest.approx(11.9, abs=0.3)
    assert july("cool_maritime", "radiation_mj_m2").mean() == pytest.approx(16.3, abs=0.5)
    assert july("cool_maritime", "rain_mm").sum() / YEARS == pytest.approx(77.3, rel=0.08)
    assert is_wet.sum() / YEARS == pytest.approx(15.4, abs=0.5)
    assert tmax[is_wet].mean() == pytest.approx(19.5, abs=0.3)
    assert tmax[~is_wet].mean() == pytest.approx(23.2, abs=0.3)


@check(
    "every month of three climates: temperature, radiation, rain, wet days",
    source="griffin_climate",
    read="read: data",
    independent=False,
)
@pytest.mark.parametrize("name", CLIMATES)
def test_every_month_comes_back(name):
    for month in load_climates()[name].months:
        wanted = {
            ("tmax_c", np.mean): (month.tmax_c, 0.3),
            ("tmin_c", np.mean): (month.tmin_c, 0.3),
            ("radiation_mj_m2", np.mean): (month.radiation_mj_m2, 0.3),
            ("rain_mm", np.sum): (month.rain_mm, 1.0),
            ("is_wet", np.sum): (month.wet_days, 0.2),
        }
        for (field, gather), (figure, slack) in wanted.items():
            drawn = yearly(name, month.month, field, gather)
            luck = 4.0 * drawn.std(ddof=1) / np.sqrt(YEARS)  # about 6 false alarms in 100,000 a figure
            assert drawn.mean() == pytest.approx(figure, abs=luck + slack), (month.month, field)


@check(
    "every month of three climates: day-to-day spread of temperatures",
    source="griffin_climate",
    read="read: data",
    independent=False,
)
@pytest.mark.parametrize("name", CLIMATES)
def test_every_month_keeps_its_spread(name):
    days, months = two_hundred_years(name)
    for month in load_climates()[name].months:
        chosen = days[months == month.month]
        is_wet = chosen["is_wet"] == 1
        assert chosen["tmin_c"].std() == pytest.approx(month.tmin_sd_c, rel=0.12), month.month
        assert chosen["tmax_c"][~is_wet].std() == pytest.approx(month.tmax_dry_sd_c, rel=0.12), month.month
        assert chosen["tmax_c"][is_wet].std() == pytest.approx(month.tmax_wet_sd_c, rel=0.12), month.month


@check("share of wet days in a dry-summer July", source="seattle_daily", read="read: data", independent=False)
def test_dry_summer_wet_share():
    weather = generate_weather(load_climates()["dry_summer_maritime"], date(1601, 1, 1), date(2000, 12, 31), seed=2)
    is_wet = weather.days["is_wet"][months_of(weather) == 7]
    assert len(is_wet) > 10_000
    assert is_wet.mean() == pytest.approx(0.088, abs=0.01)


@check(
    "May at Griffin: wet share, rain after rain, rain of a wet day",
    source="griffin_climate",
    read="derived",
    independent=False,
)
def test_warm_humid_may_rain():
    may = load_climates()["warm_humid"].months[4]
    assert may.wet_share == pytest.approx(0.287, abs=0.005)
    assert may.wet_after_wet_share == pytest.approx(0.541, abs=0.005)
    assert may.rain_mm / may.wet_days == pytest.approx(9.21, abs=0.05)


@check(
    "July at Griffin: dry and wet days mix to the month's own means",
    source="griffin_climate",
    read="read: data",
    independent=True,
)
def test_wet_and_dry_mix_to_the_month():
    month = load_climates()["warm_humid"].months[6]
    assert month.tmax_c == pytest.approx(31.8, abs=0.1)
    assert month.radiation_mj_m2 == pytest.approx(21.8, abs=0.1)


def anomalies(weather, field):
    """Departures from each month's mean, April to October, not a number elsewhere."""
    months, values = months_of(weather), weather.days[field].astype(float)
    out = np.full(len(values), np.nan)
    for month in range(4, 11):
        chosen = months == month
        out[chosen] = values[chosen] - values[chosen].mean()
    return out


def lag_one(series):
    pairs = np.column_stack([series[:-1], series[1:]])
    pairs = pairs[~np.isnan(pairs).any(axis=1)]
    return np.corrcoef(pairs.T)[0, 1]


@cache
def seattle():
    path = Path(vega_datasets.__file__).parent / "_data" / "seattle-weather.csv"
    return read_weather(path, latitude_deg=47.45, elevation_m=130)


def residuals(weather):
    """Highest temperatures as departures from those of wet or dry days of the month, in standard deviations."""
    months, is_wet, tmax = months_of(weather), weather.days["is_wet"], weather.days["tmax_c"]
    out = np.full(len(tmax), np.nan)
    for month in range(4, 11):
        for wet in (0, 1):
            chosen = (months == month) & (is_wet == wet)
            out[chosen] = (tmax[chosen] - tmax[chosen].mean()) / tmax[chosen].std()
    return out


@cache
def dry_summer_century():
    return generate_weather(load_climates()["dry_summer_maritime"], date(1901, 1, 1), date(2000, 12, 31), seed=3)


@check(
    "what carries over of a day's residual of the highest temperature",
    source="seattle_daily",
    read="derived",
    independent=True,
)
def test_residuals_carry_over():
    assert lag_one(residuals(dry_summer_century())) == pytest.approx(0.65, abs=0.07)


@check(
    "what carries over of a warm or cool day, April to October",
    source="seattle_daily",
    read="read: data",
    independent=True,
)
def test_days_carry_over_nearly_as_in_a_real_series():
    """Warm and cool spells are drawn a little shorter than they were: 0.58 for 0.66 by day, 0.69 for 0.67 by night."""
    drawn = dry_summer_century()
    for field in ("tmax_c", "tmin_c"):
        assert lag_one(anomalies(drawn, field)) == pytest.approx(lag_one(anomalies(seattle(), field)), abs=0.10)


@check(
    "residual process: variances and correlations solved exactly from its matrices",
    source="richardson1984",
    read="derived",
    independent=True,
)
def test_residual_process_is_standard():
    parameters, count = load_parameters(), 20_000
    carry_over = parameters.numbers("weather.residuals.carry_over").reshape(3, 3)
    shock = parameters.numbers("weather.residuals.shock").reshape(3, 3)
    key = stream_key(1, "residuals")
    state, series = np.zeros(3), np.zeros((count, 3))
    for day in range(count):
        state = carry_over @ state + shock @ [normal(key, day, question) for question in (1, 2, 3)]
        series[day] = state
    assert series.var(axis=0) == pytest.approx(np.ones(3), abs=0.05)
    same_day = np.corrcoef(series.T)
    assert same_day[np.triu_indices(3, 1)] == pytest.approx([0.633, 0.186, -0.193], abs=0.03)
    assert [lag_one(series[:, place]) for place in range(3)] == pytest.approx([0.621, 0.674, 0.250], abs=0.03)
