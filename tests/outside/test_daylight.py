"""Day length and radiation against worked examples and a reference library."""

import numpy as np
import pandas as pd
import pvlib
import pytest

from sim.parameters import load_parameters
from sim.weather.daylight import (
    clear_sky_mj_m2,
    day_length_h,
    declination_rad,
    extraterrestrial_mj_m2,
    relative_distance,
    sunset_angle_rad,
    temperature_radiation_mj_m2,
)
from tests.outside.register import check


@check(
    "example 8: distance, declination, sunset and radiation above the air",
    source="fao56",
    read="read: second hand",
    independent=True,
)
def test_3_september_at_20_degrees_south():
    assert float(relative_distance(246)) == pytest.approx(0.985, abs=0.001)
    assert float(declination_rad(246)) == pytest.approx(0.120, abs=0.001)
    assert float(sunset_angle_rad(246, -20.0)) == pytest.approx(1.527, abs=0.001)
    assert float(extraterrestrial_mj_m2(246, -20.0)) == pytest.approx(32.2, abs=0.05)


@check("example 9: daylight of that day", source="fao56", read="read: second hand", independent=True)
def test_daylight_of_3_september():
    assert float(day_length_h(246, -20.0)) == pytest.approx(11.7, abs=0.05)


@check("example 10: 15 May at 22.9 degrees south", source="fao56", read="read: second hand", independent=True)
def test_15_may_near_the_tropic():
    assert float(extraterrestrial_mj_m2(135, -22.9)) == pytest.approx(25.1, abs=0.05)
    assert float(day_length_h(135, -22.9)) == pytest.approx(10.9, abs=0.05)


@check("example 10: clear sky at sea level", source="fao56", read="read: second hand", independent=True)
def test_clear_sky_at_sea_level():
    assert float(clear_sky_mj_m2(25.111, 0.0)) == pytest.approx(18.833, abs=0.005)


@check("example 15: radiation from the temperature range", source="fao56", read="read: second hand", independent=True)
def test_radiation_from_temperature_range():
    factor = load_parameters().number("weather.radiation.range_factor")
    assert float(temperature_radiation_mj_m2(40.6, 14.8, 26.6, factor)) == pytest.approx(22.3, abs=0.05)


@check("example 18: 6 July at 50.8 degrees north, 100 m", source="fao56", read="read: second hand", independent=True)
def test_6_july_at_51_degrees_north():
    above_air = extraterrestrial_mj_m2(187, 50.80)
    assert float(above_air) == pytest.approx(41.09, abs=0.02)
    assert float(day_length_h(187, 50.80)) == pytest.approx(16.1, abs=0.05)
    assert float(clear_sky_mj_m2(above_air, 100.0)) == pytest.approx(30.90, abs=0.01)


@check(
    "solstices at 40 degrees north, worked out by hand from the formulas",
    source="fao56",
    read="derived",
    independent=True,
)
def test_solstices_at_40_degrees_north():
    days = np.array([172, 355])
    assert day_length_h(days, 40.0) == pytest.approx([14.84, 9.16], abs=0.02)
    assert extraterrestrial_mj_m2(days, 40.0) == pytest.approx([41.87, 13.52], abs=0.05)


LATITUDES = (-35.0, 0.0, 33.26, 47.45, 52.1)


@check("declination and day length by the same simple sine", source="pvlib", read="read: data", independent=True)
@pytest.mark.parametrize("latitude_deg", LATITUDES)
def test_day_length_matches_reference_library(latitude_deg):
    days = np.arange(1, 366)
    declination = pvlib.solarposition.declination_cooper69(days)
    sunset = np.arccos(-np.tan(np.radians(latitude_deg)) * np.tan(declination))
    assert declination_rad(days) == pytest.approx(declination, abs=0.002)
    assert day_length_h(days, latitude_deg) == pytest.approx(24 * sunset / np.pi, abs=0.03)


@check("day length by a declination of seven terms", source="pvlib", read="read: data", independent=True)
@pytest.mark.parametrize("latitude_deg", LATITUDES)
def test_day_length_is_near_the_exact_one(latitude_deg):
    """The simple sine of FAO-56 runs up to 1.5 degrees late about the equinoxes: some 16 minutes at 52 degrees."""
    days = np.arange(1, 366)
    declination = pvlib.solarposition.declination_spencer71(days)
    sunset = np.arccos(-np.tan(np.radians(latitude_deg)) * np.tan(declination))
    assert day_length_h(days, latitude_deg) == pytest.approx(24 * sunset / np.pi, abs=0.3)


@check("radiation above the air, summed over the sun's path", source="pvlib", read="read: data", independent=True)
@pytest.mark.filterwarnings("ignore:DatetimeIndex.dayofyear")  # within the reference library
@pytest.mark.parametrize("latitude_deg", LATITUDES)
def test_radiation_above_the_air_matches_reference_library(latitude_deg):
    for day, within in ((15, 0.02), (135, 0.02), (172, 0.01), (227, 0.02), (80, 0.06), (288, 0.06)):
        start = pd.Timestamp("2023-01-01", tz="UTC") + pd.Timedelta(days=day - 1)
        times = pd.date_range(start, periods=288, freq="5min")
        zenith_deg = pvlib.solarposition.get_solarposition(times, latitude_deg, 0.0)["zenith"].to_numpy()
        beam = pvlib.irradiance.get_extra_radiation(times).to_numpy()
        reference = (beam * np.maximum(np.cos(np.radians(zenith_deg)), 0.0)).sum() * 300 / 1e6
        assert float(extraterrestrial_mj_m2(day, latitude_deg)) == pytest.approx(reference, rel=within)
