"""Whether a year's warmth is of the northern half of the earth. All weather here is invented."""

from datetime import date, timedelta

import pytest

from sim.errors import WeatherError
from sim.weather.files import read_weather
from sim.weather.halves import check_half


def weather(folder, warmest_month, first=date(2024, 1, 1), days=366):
    path = folder / "days.csv"
    rows = ["date,tmin_c,tmax_c,rain_mm"]
    for day in (first + timedelta(days=n) for n in range(days)):
        apart = min((day.month - warmest_month) % 12, (warmest_month - day.month) % 12)
        rows.append(f"{day},{15 - 2 * apart},{27 - 2 * apart},0")
    path.write_text("\n".join(rows), encoding="utf-8")
    return read_weather(path, latitude_deg=35.0)


def test_a_file_of_the_south_whose_minus_sign_was_lost_is_refused(tmp_path):
    with pytest.raises(WeatherError, match=r"a January of 21\.0 °C and a July of 9\.0 °C, as in the southern half"):
        check_half(weather(tmp_path, warmest_month=1))


def test_a_year_of_the_north_and_days_without_a_january_are_taken(tmp_path):
    check_half(weather(tmp_path, warmest_month=7))
    check_half(weather(tmp_path, warmest_month=1, first=date(2024, 3, 1), days=200))
