"""A picture handed to the page: the grammar that Altair would have checked, each table once, named by what it holds."""

import json
import re
from functools import partial

import altair as alt
import pandas as pd
import pyarrow as pa
import pytest
from altair.utils.schemapi import SchemaValidationError

from dashboard.charts import (
    caring_picture,
    change_picture,
    curve_picture,
    days_picture,
    ends_picture,
    energy_picture,
    guess_picture,
    room_picture,
    seasons_picture,
    stages_picture,
    starving_picture,
    weeks_picture,
)
from dashboard.charts.dressing import dress, layered, mean_words
from dashboard.charts.palette import DARK_PAPER, INK, ON_DARK_PAPER, PAPER, QUIET_INK, contrast
from dashboard.page.placing import on_dark_paper, plain_spec
from tests.dashboard.invented import TITLES
from tests.dashboard.invented_scenes import scenes_of

TAP = room_picture.Tap("net", "more", "You said: more.")
DRAWN = {
    "caring": (caring_picture.draw, "caring"),
    "change": (change_picture.draw, "change"),
    "curve": (curve_picture.draw, "curve"),
    "days": (days_picture.draw, "days"),
    "deeds": (days_picture.draw_deeds, "deeds"),
    "ends": (partial(ends_picture.draw, plan="net"), "ends"),
    "energy": (partial(energy_picture.draw, plan="net"), "energy"),
    "guess": (guess_picture.draw, "guess"),
    "seasons": (seasons_picture.draw, "seasons"),
    "stages": (stages_picture.draw, "stages"),
    "starving": (starving_picture.draw, "starving"),
    "weeks": (partial(weeks_picture.draw, plan="net"), "weeks"),
    "seasons for a room": (room_picture.draw_seasons, "seasons"),
    "seasons for a room, with a guess": (partial(room_picture.draw_seasons, tap=TAP), "seasons"),
    "guess for a room": (room_picture.draw_guess, "guess"),
}
"""Name of a picture on a screen → what draws it, and the invented scene that it is drawn of."""
ROWS = pd.DataFrame({"plan": ["net", "spray"], "value": [2.0, 1.0], "said": ["2", "1"]})
PLACES = {"x": alt.X("plan:N"), "y": alt.Y("value:Q")}


def picture(rows=ROWS):
    marks = alt.Chart(rows).mark_point().encode(**PLACES)
    return dress(layered(marks, *mean_words(rows, **PLACES)), width="container", height=200, title="Harvest")


def rows_of(content):
    with pa.ipc.open_stream(content) as stream:
        return stream.read_all().to_pylist()


@pytest.mark.parametrize("name", DRAWN)
def test_every_picture_keeps_to_the_grammar(name):
    """Held against it here, since no visitor waits for that."""
    draw, scene = DRAWN[name]
    assert draw(scenes_of(TITLES)[scene]).to_dict(validate=True)


@pytest.mark.parametrize("name", DRAWN)
def test_on_a_dark_page_every_colour_of_every_picture_has_its_neighbour(name):
    draw, scene = DRAWN[name]
    spec = draw(scenes_of(TITLES)[scene]).to_dict()
    spec.pop("datasets", None)
    on_white, on_dark = (set(re.findall(r"#[0-9a-f]{6}", json.dumps(one))) for one in (spec, on_dark_paper(spec)))
    assert PAPER in on_white
    assert on_dark == {ON_DARK_PAPER[colour] for colour in on_white}


def test_letters_of_a_picture_can_be_read_on_a_dark_page():
    for ink in (INK, QUIET_INK):
        assert contrast(ON_DARK_PAPER[ink], DARK_PAPER) >= 7 <= contrast(ink, PAPER)


def test_a_slip_in_a_part_of_a_picture_would_be_found():
    slip = alt.Chart(ROWS).mark_point().encode(x=alt.X("plan:N", axis=alt.Axis(labelColour="red")))
    with pytest.raises(SchemaValidationError, match="labelColour"):
        layered(slip, slip).to_dict()


def test_layers_say_what_altair_s_own_say():
    marks = [alt.Chart(rows).mark_point().encode(**PLACES) for rows in (ROWS, ROWS.assign(value=0.5))]
    assert layered(*marks).to_dict() == alt.layer(*marks).to_dict()


def test_a_table_used_by_several_layers_lies_there_once_as_it_was():
    spec = plain_spec(picture())
    (name,) = spec["datasets"]
    assert rows_of(spec["datasets"][name]) == ROWS.to_dict("records")
    assert [layer["data"] for layer in spec["layer"]] == [{"name": name}] * 3


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
    assert (spec["width"], spec["height"]) == ("container", 200)
    assert spec["title"] == {"text": ["Harvest"], "aria": False}
