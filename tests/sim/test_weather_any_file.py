"""Whatever stands in a file: it is read, or refused in one sentence."""

import tempfile
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from sim.errors import WeatherError
from sim.weather.files import read_weather

TABLE = "date,tmin_c,tmax_c,rain_mm\n2024-05-01,8.5,19.5,0\n2024-05-02,9.0,21.0,3.4\n"
LONG = "XX000000001,20240501,TMAX,195,,,W\nXX000000001,20240501,TMIN,85,,,W\nXX000000001,20240501,PRCP,0,T,,W\n"
MONTHLY = "".join(f"XX000000001202405{name}  195   " + "-9999   " * 30 + "\n" for name in ("TMAX", "TMIN", "PRCP"))
characters = st.sampled_from([*'0123456789,;.-/"\t\n\r T\0_é°', "9" * 400, "-9999", "date", "STATION"])


@st.composite
def spoiled_files(draw):
    text = draw(st.sampled_from([TABLE, LONG, MONTHLY]))
    for _ in range(draw(st.integers(1, 4))):
        place = draw(st.integers(0, len(text)))
        text = text[:place] + draw(characters) + text[place + draw(st.integers(0, 3)) :]
    return text.encode(draw(st.sampled_from(["utf-8", "utf-8-sig", "latin-1", "utf-16", "utf-16-le"])))


@settings(max_examples=300, deadline=None)
@given(st.one_of(spoiled_files(), st.binary(max_size=200)))
def test_any_file_is_read_or_refused(content):
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "any.csv"
        path.write_bytes(content)
        sentence, weather = "", None
        try:
            weather = read_weather(path, latitude_deg=45.0)
        except WeatherError as error:
            sentence = str(error)
    if weather is None:
        assert sentence.startswith("The weather file 'any.csv' cannot be used: ")
        assert "\n" not in sentence
    else:
        assert (weather.days["tmin_c"] <= weather.days["tmax_c"]).all()
        assert (weather.days["rain_mm"] >= 0).all()
