"""A real daily series through the reader."""

from datetime import date
from pathlib import Path

import numpy as np
import pandas as pd
import pytest
import vega_datasets

from sim.weather.files import read_weather
from tests.outside.register import check

PATH = Path(vega_datasets.__file__).parent / "_data" / "seattle-weather.csv"


@check(
    "four years of days come through the reader as an independent reader has them",
    source="seattle_daily",
    read="read: data",
    independent=True,
)
def test_seattle_series_comes_through_unchanged():
    weather = read_weather(PATH, latitude_deg=47.45, elevation_m=130)
    reference = pd.read_csv(PATH)
    assert (weather.first_date, weather.last_date) == (date(2012, 1, 1), date(2015, 12, 31))
    for field, column in (("tmin_c", "temp_min"), ("tmax_c", "temp_max"), ("rain_mm", "precipitation")):
        assert np.array_equal(weather.days[field], reference[column].to_numpy())
    assert weather.notes == (
        "The file names no unit of temperature, so it was read as °C.",
        "The file names no unit of rain, so it was read as mm.",
    )


@check(
    "the same days order from °F and inches round to the same weather",
    source="seattle_daily",
    read="read: data",
    independent=True,
)
def test_seattle_series_in_other_units(tmp_path):
    reference = pd.read_csv(PATH)
    other = pd.DataFrame(
        {
            "date": reference["date"],
            "tmax_f": reference["temp_max"] * 1.8 + 32,
            "tmin_f": reference["temp_min"] * 1.8 + 32,
            "rain_in": reference["precipitation"] / 25.4,
        }
    )
    other.to_csv(tmp_path / "other.csv", index=False)
    weather = read_weather(tmp_path / "other.csv", latitude_deg=47.45)
    assert weather.days["tmax_c"] == pytest.approx(reference["temp_max"].to_numpy(), abs=1e-9)
    assert weather.days["rain_mm"] == pytest.approx(reference["precipitation"].to_numpy(), abs=1e-9)
    assert weather.notes == ()


@check(
    "radiation estimated for the series lies within memory of the place: dull winters, bright summers",
    source="none",
    read="memory",
    independent=True,
)
def test_estimated_radiation_is_of_the_right_size():
    days = read_weather(PATH, latitude_deg=47.45, elevation_m=130).days
    summer, winter = (days["day_of_year"] // 30 == 6), (days["day_of_year"] < 31)
    assert 19.0 < days["radiation_mj_m2"][summer].mean() < 25.0
    assert 2.5 < days["radiation_mj_m2"][winter].mean() < 5.0
    assert ((days["clear_share"] > 0) & (days["clear_share"] <= 1)).all()
