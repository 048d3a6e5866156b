"""Plain tables, their units, gaps and faults. All samples are invented."""

from datetime import date, timedelta

import numpy as np
import pytest

from sim.errors import WeatherError
from sim.weather.files import read_weather

HEADER = "date,tmin_c,tmax_c,rain_mm\n"
ROWS = "2024-05-01,8.5,19.5,0\n2024-05-02,9.0,21.0,3.4\n2024-05-03,10.0,18.0,0.0\n"


@pytest.fixture
def read(tmp_path):
    def reader(content, **options):
        path = tmp_path / "garden.csv"
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return read_weather(path, **{"latitude_deg": 45.0, **options})

    return reader


@pytest.fixture
def refuse(read):
    def refuser(content, **options):
        with pytest.raises(WeatherError) as caught:
            read(content, **options)
        sentence = str(caught.value)
        assert sentence.startswith("The ")
        assert "\n" not in sentence
        return sentence

    return refuser


def rows_of(count, tmin="10.0", tmax="20.0", rain="0"):
    first = date(2024, 5, 1)
    return "".join(f"{first + timedelta(days=day)},{tmin},{tmax},{rain}\n" for day in range(count))


def test_a_plain_table_is_read(read):
    weather = read(HEADER + ROWS)
    assert weather.first_date == date(2024, 5, 1)
    assert weather.days["tmin_c"].tolist() == [8.5, 9.0, 10.0]
    assert weather.days["tmax_c"].tolist() == [19.5, 21.0, 18.0]
    assert weather.days["rain_mm"].tolist() == [0.0, 3.4, 0.0]
    assert weather.days["is_wet"].tolist() == [0, 1, 0]
    assert weather.days["day_of_year"].tolist() == [122, 123, 124]
    assert weather.notes == ()
    assert "garden.csv" in weather.origin


@pytest.mark.parametrize(
    "content",
    [
        ("\ufeff" + HEADER + ROWS).encode(),
        (HEADER + ROWS).encode("utf-16"),
        (HEADER + ROWS).replace("\n", "\r\n").encode(),
        ("# Anlage am Übergang\n" + HEADER + ROWS).encode("latin-1"),
        ("date,Tmin (°C),Tmax (°C),Rain (mm)\n" + ROWS).encode("latin-1"),
        ("date,temp_min_c,temp_max_c,precipitation_mm\n" + ROWS).encode(),
        (HEADER + ROWS).replace(",", ";").replace(".", ",").encode(),
        ("sep=;\n" + (HEADER + ROWS).replace(",", ";").replace(".", ",")).encode(),
        (HEADER + ROWS).replace(",", "\t").encode(),
        (HEADER + ROWS).replace("-", "/").encode(),
        (HEADER + ROWS).replace("2024-05-", "202405").encode(),
        (HEADER + "".join(f"{row},,\n" for row in ROWS.split())).encode(),
        (HEADER + ROWS.replace("\n", "\n , ,,\n")).encode(),
    ],
    ids=[
        "mark",
        "utf-16",
        "crlf",
        "latin-1",
        "degree sign",
        "names",
        "semicolons",
        "sep",
        "tabs",
        "slashes",
        "packed",
        "tail",
        "empty rows",
    ],
)
def test_the_same_table_in_other_clothes(read, content):
    assert read(content).days.tobytes() == read(HEADER + ROWS).days.tobytes()


def test_fahrenheit_and_inches_in_the_header(read):
    days = read("date,tmin_f,tmax_f,rain_in\n2024-05-01,50,68,0.5\n").days
    assert days["tmin_c"][0] == pytest.approx(10.0)
    assert days["tmax_c"][0] == pytest.approx(20.0)
    assert days["rain_mm"][0] == pytest.approx(12.7)


def test_declared_units(read):
    days = read("date,tmin,tmax,rain\n2024-05-01,50,68,0.5\n", temperature_unit="F", rain_unit="inch").days
    assert (days["tmin_c"][0], days["rain_mm"][0]) == pytest.approx((10.0, 12.7))


def test_silence_is_taken_for_celsius_and_said_so(read):
    weather = read("date,tmin,tmax,rain\n" + ROWS)
    assert weather.notes == (
        "The file names no unit of temperature, so it was read as °C.",
        "The file names no unit of rain, so it was read as mm.",
    )


def test_whole_degrees_in_a_table_of_ones_own_raise_no_doubt(read):
    """They do in an archive's shape, whose degrees of Celsius have decimals (tests of the archives)."""
    weather = read("date,tmin,tmax,rain\n2024-05-01,8,19,0\n2024-05-02,9,21,3\n")
    assert weather.days["tmax_c"].tolist() == [19, 21]
    assert len(weather.notes) == 2


def test_trace_is_no_rain(read):
    assert read(HEADER + "2024-05-01,8,19,T\n").days["rain_mm"][0] == 0


def test_days_of_us_and_european_order(read):
    us = read(HEADER + "5/12/2024,8,19,0\n5/13/2024,8,19,0\n")
    european = read(HEADER + "12.05.2024,8,19,0\n13.05.2024,8,19,0\n")
    assert us.first_date == european.first_date == date(2024, 5, 12)


def test_radiation_is_used_where_known(read):
    weather = read("date,tmin_c,tmax_c,rain_mm,radiation_mj_m2\n2024-05-01,8,19,0,12.5\n2024-05-02,8,19,0,\n")
    estimated = read(HEADER + "2024-05-01,8,19,0\n2024-05-02,8,19,0\n")
    assert weather.days["radiation_mj_m2"][0] == 12.5
    assert weather.days["radiation_mj_m2"][1] == estimated.days["radiation_mj_m2"][1]


def test_radiation_that_is_estimated_is_never_above_a_clear_sky(read):
    """On 21 June at 40 degrees 41.87 MJ/m² come in above the air, and three quarters of that through a clear sky at sea
    level. The estimate from a range of 40 degrees would be 0.16 times its root, more than the whole."""
    day = read(HEADER + "2023-06-21,0,40,0\n", latitude_deg=40.0, elevation_m=0.0).days[0]
    assert day["radiation_mj_m2"] == pytest.approx(31.4, abs=0.05)
    assert day["clear_share"] == 1.0


def test_a_day_brighter_than_a_clear_sky_is_as_clear_as_can_be(read):
    """A gauge may read more than the clear sky's 31.4 MJ/m², as when white clouds stand around the sun."""
    header = "date,tmin_c,tmax_c,rain_mm,radiation_mj_m2\n"
    day = read(header + "2023-06-21,15,25,0,35\n", latitude_deg=40.0, elevation_m=0.0).days[0]
    assert (day["radiation_mj_m2"], day["clear_share"]) == (35.0, 1.0)


def test_numbers_are_read_as_people_and_programs_write_them(read):
    days = read(HEADER.replace(",", ";") + "2024-05-01;\u22125,5;+19;,5\n2024-05-02;-.5;1.9e1;5.\n").days
    assert days["tmin_c"].tolist() == [-5.5, -0.5]
    assert days["tmax_c"].tolist() == [19, 19]
    assert days["rain_mm"].tolist() == [0.5, 5.0]


def test_short_gaps_are_filled_and_said_so(read):
    weather = read(HEADER + "2024-05-01,8,20,0\n2024-05-02,,,\n2024-05-05,12,24,4\n2024-05-06,12,24,4\n")
    assert weather.days["tmin_c"].tolist() == [8, 9, 10, 11, 12, 12]
    assert weather.days["rain_mm"].tolist() == [0, 1, 2, 3, 4, 4]
    assert weather.notes == (
        "3 days were filled by a straight line between neighbours: 2024-05-02, 2024-05-03, 2024-05-04.",
    )


def test_a_filled_night_is_not_warmer_than_its_day(read):
    days = read(HEADER + "2024-05-01,18,20,0\n2024-05-02,,15,0\n2024-05-03,18,20,0\n").days
    assert days["tmin_c"][1] == 15


def test_blank_ends_are_left_out(read):
    weather = read(HEADER + "2024-04-30,,,\n" + ROWS + "2024-05-04,7,-9999,0\n")
    assert (weather.first_date, len(weather)) == (date(2024, 5, 1), 3)
    assert weather.notes == ("2 days without readings at the ends were left out.",)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        ("", "the file is empty"),
        ("  \n\n", "the file is empty"),
        ("# only a remark\n", "remarks but no days"),
        (HEADER, "a header but no days"),
        (b"PK\x03\x04rest", "a spreadsheet or a packed archive; save it as CSV"),
        (b"\x1f\x8brest", "packed; unpack it first"),
        ("date,tmin_c\n".encode("utf-16-le"), "no plain text"),
        ("hello world\n1,2,3\n", "line 1: 'hello world' is no known header"),
        ("date,tmin_c,tmx_c,rain_mm\n" + ROWS, "no column for tmax; found date, tmin_c, tmx_c, rain_mm"),
        ("date,tmin_c,temp_min,tmax_c,rain\n", "'tmin_c' and 'temp_min' both hold tmin; keep one"),
        ("date,tmin_c,tmax_f,rain_mm\n" + ROWS, "gives tmin and tmax different units"),
        (HEADER + "2024-05-01,8,x,0\n", "line 2: tmax is 'x'; a number or a blank is allowed"),
        (HEADER + "2024-05-01,8,inf,0\n", "line 2: tmax is 'inf'"),
        (HEADER + "# note\n", "line 2: one cell found where the header has 4"),
        (HEADER + "2024-05-01,8,5,19,5,0\n", "line 2: 6 cells found where the header has 4. Decimal commas?"),
        (HEADER + '2024-05-01,"8,125",19,0\n', "line 2: tmin is '8,125', where the comma may part"),
        (HEADER + "2024-02-30,8,19,0\n", "line 2: the date '2024-02-30' is not in the calendar"),
        (HEADER + "May 1,8,19,0\n", "line 2: the date is 'May 1'; dates such as 2024-05-31 are allowed"),
        (HEADER + "05/06/2024,8,19,0\n", "line 2: day and month cannot be told apart in '05/06/2024'"),
        (HEADER + "05/13/2024,8,19,0\n14/05/2024,8,19,0\n", "line 2: day and month cannot be told apart in '05/13"),
        (HEADER + "2024-05-01,8,19,0\n2024-05-01,8,19,0\n", "line 3: 2024-05-01 stands in line 2 already"),
        (HEADER + "2024-05-02,8,19,0\n2024-05-01,8,19,0\n", "line 3: 2024-05-01 comes after 2024-05-02"),
        (
            HEADER + "2024-05-01,8,19,0\n2024-05-06,8,19,0\n",
            "4 days in a row have no reading from 2024-05-02 to 2024-05-05; 3 at most can be filled",
        ),
        (HEADER + "2024-05-01,8,,0\n", "no day has tmin, tmax and rain"),
        (HEADER + "2024-05-01,20,19,0\n", "line 2: tmin 20 °C is above tmax 19 °C"),
        (HEADER + "2024-05-01,8,19,-1\n", "line 2: rain is -1 mm; 0 to 1900 mm is allowed"),
        (HEADER + "2024-05-01,8,99.9,0\n", "line 2: tmax is 99.9 °C; -90 to 60 °C is allowed"),
        (
            "date,tmin,tmax,rain\n2024-05-01,50,68,0\n",
            "line 2 has tmax 68, above 60 °C, so the temperatures may be in °F",
        ),
        ("date,tmin,tmax,rain\n2024-05-01,45,58,0\n", "line 2 has tmin 45, above 40 °C"),
        ("date,tmin,tmax,rain_in\n2024-05-01,30,50,0\n", "the rain is in inches, so the temperatures may be in °F"),
        ("date,tmin_f,tmax_f,rain\n2024-05-01,30,50,0\n", "the temperatures are in °F, so the rain may be in inches"),
        ("date,tmin_c,tmax_c,rain\n" + rows_of(9, rain="0.31"), "a wet day has 0.31 on average, 1 to 35 mm is usual"),
        ("date,tmin_c,tmax_c,rain\n" + rows_of(9, rain="88"), "a wet day has 88 on average"),
        (
            "date,tmin_c,tmax_c,rain_mm,radiation\n2024-05-01,8,19,0,250\n",
            "line 2: radiation is 250; a clear sky gives",
        ),
        ("date,tmin_c,tmax_c,rain_mm,radiation\n2024-05-01,8,19,0,-2\n", "line 2: radiation is -2"),
    ],
)
def test_what_cannot_be_used_is_refused_in_one_sentence(refuse, content, words):
    assert words in refuse(content)


def test_the_ends_of_what_is_allowed_are_allowed(read):
    day = read(HEADER + "2024-05-01,-90,60,1900\n").days[0]
    assert (day["tmin_c"], day["tmax_c"], day["rain_mm"]) == (-90, 60, 1900)


def test_doubt_is_settled_by_saying_which(refuse, read):
    content = "date,tmin,tmax,rain\n" + rows_of(9, "50", "68", "0.31")
    assert "say which with temperature_unit (c, f, tenths_c)" in refuse(content)
    assert "say which with rain_unit (mm, inch, tenths_mm)" in refuse(content, temperature_unit="f")
    assert np.allclose(read(content, temperature_unit="f", rain_unit="inch").days["tmax_c"], 20.0)


def test_rain_is_doubted_by_what_falls_on_wet_days_where_there_are_five(read, refuse):
    silent = "date,tmin_c,tmax_c,rain\n"
    assert "a wet day has 0.31 on average" in refuse(silent + rows_of(5, rain="0.31"))
    assert len(read(silent + rows_of(4, rain="0.31"))) == 4  # too few to judge by
    dry = "".join(f"{date(2024, 6, day)},10.0,20.0,0\n" for day in range(1, 31))
    may = "".join(f"{date(2024, 5, day)},10.0,20.0,4\n" for day in range(27, 32))
    assert len(read(silent + may + dry)) == 35  # 4 mm on a wet day, though hardly half a millimetre on a day


def test_six_filled_days_are_named_and_more_are_cut_short(read):
    def note(*known):
        return read(HEADER + "".join(f"2024-05-{day:02},8,20,0\n" for day in known)).notes[0]

    assert note(1, 5, 9).endswith("2024-05-04, 2024-05-06, 2024-05-07, 2024-05-08.")
    assert note(1, 5, 9, 11).endswith("2024-05-07, 2024-05-08, ….")


def test_declarations_must_be_known_and_agree_with_the_file(refuse):
    assert "temperature_unit is 'kelvin'; c, f, tenths_c are allowed" in refuse(
        HEADER + ROWS, temperature_unit="kelvin"
    )
    assert "temperature_unit says °F, but the file is in °C" in refuse(HEADER + ROWS, temperature_unit="f")
    assert "rain_unit says inches, but the file is in mm" in refuse(HEADER + ROWS, rain_unit="inch")


def test_places_and_paths_are_checked(read, refuse, tmp_path):
    assert "The latitude is 95" in refuse(HEADER + ROWS, latitude_deg=95)
    assert "The latitude is nan" in refuse(HEADER + ROWS, latitude_deg=float("nan"))
    assert "The elevation is 9000 m; -430 to 5500 m is allowed" in refuse(HEADER + ROWS, elevation_m=9000)
    with pytest.raises(WeatherError, match=r"^The weather file '[\w.]+' cannot be read: No such file"):
        read_weather(tmp_path / "absent.csv", latitude_deg=45)
    with pytest.raises(WeatherError, match="cannot be read: Is a directory"):
        read_weather(tmp_path, latitude_deg=45)


def test_polar_night_has_no_light_and_is_read(read):
    days = read(HEADER + "2024-12-20,-30,-20,0\n", latitude_deg=80).days
    assert (days["radiation_mj_m2"][0], days["clear_share"][0], days["day_length_h"][0]) == (0, 0, 0)


def test_a_table_with_spanish_names_semicolons_and_decimal_commas_is_read(read):
    head = "Fecha;Temperatura mínima (°C);Temperatura máxima (°C);Precipitación (mm)\r\n"
    weather = read(("\ufeff" + head + "13/05/2024;8,5;19,5;0,0\r\n14/05/2024;9,0;21,0;3,4\r\n").encode())
    assert weather.first_date == date(2024, 5, 13)
    assert weather.days["tmin_c"].tolist() == [8.5, 9.0]
    assert weather.days["tmax_c"].tolist() == [19.5, 21.0]
    assert weather.days["rain_mm"].tolist() == [0.0, 3.4]
    assert weather.notes == ()
