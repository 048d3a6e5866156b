"""The three shapes of a public archive. All stations and values are invented."""

from datetime import date

import pytest

from sim.errors import WeatherError
from sim.weather.files import read_weather

STATION = "XX000000001"
LONG = f"""\
{STATION},20240501,TMAX,195,,,W,2400
{STATION},20240501,TMIN,85,,,W,2400
{STATION},20240501,PRCP,0,T,,W,2400
{STATION},20240501,SNOW,0,,,W,
{STATION},20240502,TMAX,999,,I,W,2400
{STATION},20240502,TMIN,90,,,W,2400
{STATION},20240502,PRCP,34,,,W,2400
{STATION},20240503,TMAX,180,,,W,2400
{STATION},20240503,TMIN,100,,,W,2400
{STATION},20240503,PRCP,0,,,W,2400
"""
WIDE = f"""\
"STATION","DATE","NAME","PRCP","PRCP_ATTRIBUTES","TMAX","TMAX_ATTRIBUTES","TMIN","TMIN_ATTRIBUTES"
"{STATION}","2024-05-01","INVENTED, XX","0.0","T,,W,2400","19.5",",,W","8.5",",,W"
"{STATION}","2024-05-02","INVENTED, XX","3.4",",,W,2400","99.9",",I,W","9.0",",,W"
"{STATION}","2024-05-03","INVENTED, XX","0.0",",,W,2400","18.0",",,W","10.0",",,W"
"""


def month(element, values, flags=None):
    """A month's line in fixed columns: station, year, month, element, 31 cells of value and three flags."""
    cells = [f"{value:5d}{(flags or {}).get(day, '   ')}" for day, value in enumerate(values, start=1)]
    return f"{STATION}202405{element}" + "".join(cells) + "-9999   " * (31 - len(cells)) + "\n"


MONTHLY = (
    month("TMAX", [195, 999, 180], {2: " IW"})
    + month("TMIN", [85, 90, 100])
    + month("PRCP", [0, 34, 0], {1: "T W"})
    + month("SNWD", [0, 0, 0])
)


@pytest.fixture
def read(tmp_path):
    def reader(content, **options):
        path = tmp_path / "station.txt"
        path.write_text(content, encoding="utf-8")
        return read_weather(path, latitude_deg=45.0, **options)

    return reader


@pytest.mark.parametrize(
    "content", [LONG, "ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME\n" + LONG, WIDE, MONTHLY]
)
def test_three_shapes_hold_the_same_days(read, content):
    weather = read(content)
    assert weather.first_date == date(2024, 5, 1)
    assert weather.days["tmin_c"].tolist() == [8.5, 9.0, 10.0]
    assert weather.days["tmax_c"].tolist() == [19.5, 18.75, 18.0]
    assert weather.days["rain_mm"].tolist() == [0.0, 3.4, 0.0]
    assert "1 value marked as doubtful by the archive was dropped." in weather.notes
    assert "1 day was filled by a straight line between neighbours: 2024-05-02." in weather.notes


def test_values_may_come_element_by_element(read):
    lines = sorted(LONG.splitlines(), key=lambda line: line.split(",")[2])
    assert read("\n".join(lines)).days.tobytes() == read(LONG).days.tobytes()


def test_the_mark_of_a_trace_makes_no_rain_of_a_blank(read):
    wide = WIDE.replace('"0.0","T,,W,2400"', '"2.0",",,W,2400"').replace('"0.0",",,W,2400"', '"4.0",",,W,2400"')
    weather = read(wide.replace('"3.4",",,W,2400"', '"","T,,W,2400"'))
    assert weather.days["rain_mm"].tolist() == [2.0, 3.0, 4.0]  # not known, so filled between its neighbours


def test_a_temperature_is_never_a_trace(read):
    marked = read(LONG.replace("20240503,TMAX,180,,", "20240503,TMAX,180,T,"))
    assert marked.days["tmax_c"][2] == 18.0


def test_station_names_that_look_like_a_packed_file_are_read(read):
    assert len(read(LONG.replace("XX", "PK"))) == 3


def test_days_that_a_month_does_not_have_are_skipped(read):
    text = MONTHLY.replace("202405", "202402")
    assert read(text).first_date == date(2024, 2, 1)
    assert read(text.replace("-9999", " " * 5)).days.tobytes() == read(text).days.tobytes()


WHOLE = f"STATION,DATE,PRCP,TMAX,TMIN\n{STATION},2024-05-01,0.12,58,39\n{STATION},2024-05-02,0,57,40\n"


@pytest.mark.parametrize(
    ("content", "options", "words"),
    [
        (WHOLE, {}, "all temperatures are whole numbers"),
        (WHOLE, {"temperature_unit": "f"}, "the temperatures are in °F, so the rain may be in inches"),
        (WIDE.replace('"19.5"', '"67.1"'), {}, "line 2 has tmax 67.1, above 60 °C"),
        (WIDE + WIDE.splitlines()[-1].replace("001", "002").replace("05-03", "05-04"), {}, "there are 2 stations"),
        (LONG, {"temperature_unit": "c"}, "temperature_unit says °C, but the file is in tenths of °C"),
        (LONG + LONG.splitlines()[0].replace("001", "002"), {}, "line 11: a second station (XX000000002)"),
        (LONG + LONG.splitlines()[0], {}, "line 11: TMAX of 2024-05-01 stands in line 1 already"),
        (LONG.replace("TMIN", "TOBS"), {}, "there is no TMIN; a garden needs all of TMIN, TMAX, PRCP"),
        (LONG.replace(",90,", ",9x,"), {}, "line 6: TMIN is '9x'"),
        (LONG.replace("20240503,TMAX", "20240532,TMAX"), {}, "line 8: the date '20240532' is not in the calendar"),
        (LONG + f"{STATION},20240504\n", {}, "line 11: 2 cells found"),
        (MONTHLY + "rubbish\n", {}, "line 5: 'rubbish' is no month of an element in fixed columns"),
        (
            month("TMAX", [195] * 3) + month("TMAX", [195] * 3),
            {},
            "line 2: TMAX of 2024-05-01 stands in line 1 already",
        ),
        (MONTHLY.replace("TMIN202405", "TMIN202413").replace("202405TMIN", "202413TMIN"), {}, "is not in the calendar"),
    ],
)
def test_what_cannot_be_used_is_refused_in_one_sentence(read, content, options, words):
    with pytest.raises(WeatherError) as caught:
        read(content, **options)
    assert words in str(caught.value)
    assert str(caught.value).startswith("The weather file 'station.txt' cannot be used: ")


def test_whole_numbers_are_read_when_units_are_said(read):
    days = read(WHOLE, temperature_unit="f", rain_unit="inch").days
    assert days["tmax_c"][0] == pytest.approx(14.44, abs=0.01)
    assert days["rain_mm"][0] == pytest.approx(3.048)
