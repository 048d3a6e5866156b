"""A picture handed to the page: the grammar that Altair would have checked, each table once, named by what it holds."""

import altair as alt
import pandas as pd
import pyarrow as pa

from dashboard.charts.dressing import dress, mean_words
from dashboard.placing import plain_spec

ROWS = pd.DataFrame({"plan": ["net", "spray"], "value": [2.0, 1.0], "said": ["2", "1"]})
PLACES = {"x": alt.X("plan:N"), "y": alt.Y("value:Q")}


def picture(rows=ROWS):
    marks = alt.Chart(rows).mark_point().encode(**PLACES)
    return dress(alt.layer(marks, *mean_words(rows, **PLACES)), width="container", height=200, title="Harvest")


def rows_of(content):
    with pa.ipc.open_stream(content) as stream:
        return stream.read_all().to_pylist()


def test_a_table_used_by_several_layers_lies_there_once_as_it_was():
    spec = plain_spec(picture())
    (name,) = spec["datasets"]
    assert rows_of(spec["datasets"][name]) == ROWS.to_dict("records")
    assert spec.get("data", {}).get("name") == name or {layer["data"]["name"] for layer in spec["layer"]} == {name}


def test_a_table_is_named_by_what_it_holds():
    (name,), (same,) = (plain_spec(picture())["datasets"] for _ in range(2))
    (other,) = plain_spec(picture(ROWS.assign(value=[2.0, 1.5])))["datasets"]
    assert name == same != other


def test_but_for_its_tables_it_is_what_altair_says_and_has_checked():
    placed, checked = plain_spec(picture()), picture().to_dict()
    assert [layer["encoding"] for layer in placed["layer"]] == [layer["encoding"] for layer in checked["layer"]]
    kept = {name: part for name, part in placed.items() if name not in ("data", "datasets", "layer")}
    assert kept == {name: part for name, part in checked.items() if name not in ("data", "datasets", "layer")}


def test_outside_a_page_a_picture_holds_its_rows():
    (rows,) = picture().to_dict()["datasets"].values()
    assert rows == ROWS.to_dict("records")


def test_a_dressed_picture_has_the_house_letters_and_its_parts_stay_silent():
    spec = plain_spec(picture())
    assert spec["config"]["mark"] == {"aria": False}
    assert spec["config"]["axis"]["labelFontSize"] == 14
    assert (spec["width"], spec["height"], spec["title"]) == ("container", 200, "Harvest")
