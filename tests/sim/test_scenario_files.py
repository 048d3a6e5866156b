"""Files are read, and each mistake is told in one sentence: its line, its key, what was found, what is allowed."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.errors import LeafnestError, ScenarioError
from sim.scenario import load_scenario, new_scenario_text, scenario_names
from sim.scenario.files import read_scenario_text
from sim.scenario.lines import key_lines, line_of

TEMPLATE = new_scenario_text()


def test_the_file_to_start_from_is_a_scenario_and_explains_each_line() -> None:
    scenario = read_scenario_text(TEMPLATE, "mine.toml")
    assert scenario.name == "mine"
    assert scenario.plan_names == ("nothing", "net", "look_and_spray")
    assert "#" in TEMPLATE.splitlines()[0]


MISTAKES = [
    ("length_m = 2.4", "length_m = -3", "'beds.kale.length_m' is -3; allowed: a number above 0 and up to 1000."),
    ("length_m = 2.4", 'length_m = "2.4"', "'beds.kale.length_m' is '2.4'; allowed: a number above 0"),
    ("length_m = 2.4", "lenght_m = 2.4", "there is no key 'beds.kale.lenght_m'"),
    ("length_m = 2.4", "lenght_m = 2.4", "Did you mean 'length_m'?"),
    ("area_m2 = 40", "area_m2 = -1", "'margin.area_m2' is -1; allowed: a number above 0 and up to 999999."),
    ('planted = "03-25"', 'planted = "02-30"', "'beds.kale.planted' is '02-30'; allowed: a day that every year has"),
    (
        'planted = "03-25"',
        "planted = 2025-03-25",
        "is 2025-03-25 (a date of one year); allowed: month and day in quotes",
    ),
    ('planted = "03-25"', 'planted = "01-05"', "is '01-05'; allowed: a day of the season, 03-01 to 11-15."),
    ('crop = "kale"', 'crop = "kail"', "Did you mean 'kale'?"),
    ('harvest = "picking"', "", "'beds.kale.harvest' is missing; allowed: 'picking', 'once', 'none'."),
    (
        'edges = "buried"',
        'edges = "burried"',
        "'plans.net.actions.0.edges' is 'burried'; allowed: 'buried', 'weighted'",
    ),
    ('do = "cover"', 'do = "covr"', "'plans.net.actions.0.do' is 'covr'; allowed: clean_up, cover"),
    ('do = "cover", ', "", "'plans.net.actions.0.do' is nothing; allowed: clean_up"),
    ('beds = ["cucumbers"], at', 'beds = ["melons"], at', "'plans.net.actions.1.beds' is 'melons'; allowed: the beds"),
    ('name = "net"', 'name = "nothing"', "'plans.nothing.name' is 'nothing'; allowed: a name that no other plan has."),
    (
        'at = "first_bloom" }',
        'on = "04-01" }',
        "'plans.net.actions.1' has an uncovering on 04-01; allowed: a day after",
    ),
    ("plant_spacing_m = 0.48", "plants = 200001\nplant_spacing_m = 1", "at most 200,000 plants in all beds"),
    ("years = 1 ", "years = 3", "'season.years' is 3; allowed: a whole number from 1 to 2."),
    ("years = 1 ", "years = true", "'season.years' is true; allowed: a whole number"),
    ("wild_host_plants = 4", "wild_host_plants = 4.5", "is 4.5; allowed: a whole number from 0 to 200000."),
    ("wetter = 1 ", "wetter = nan", "'place.wetter' is nan; allowed: a number from 0.2 to 3."),
    ("[season]", "[sesson]", "there is no key 'sesson'"),
    ('climate = "warm_humid"', "", "'place' has neither; allowed: either 'climate' or 'weather_file'."),
    ('kind = "wren_like"', 'kind = "wren"', "'birds.nests.0.kind' is 'wren'; allowed: 'tit_like', 'wren_like'"),
    ("actions = []", 'actions = "none"', "'plans.nothing.actions' is 'none'; allowed: a list in square brackets."),
    ('name = "kale"', 'name = "Kale 1"', "allowed: small letters from a to z without accents, digits"),
    ("caterpillar_infested_share = 0.2", "caterpillar_infested_share = 20", "is 20; allowed: a number from 0 to 1."),
    ("area_m2 = 40", "area_m2 = ", "this is not TOML"),
    ("area_m2 = 40", "area_m2 = 40\narea_m2 = 41", "this is not TOML"),
]


@pytest.mark.parametrize(("right", "wrong", "sentence"), MISTAKES)
def test_a_mistake_is_told_in_one_sentence(right: str, wrong: str, sentence: str) -> None:
    assert right in TEMPLATE
    with pytest.raises(ScenarioError) as caught:
        read_scenario_text(TEMPLATE.replace(right, wrong, 1), "mine.toml")
    message = str(caught.value)
    assert sentence in message
    assert message.startswith("mine.toml, line ")
    assert "\n" not in message


@pytest.mark.parametrize(
    ("value", "sentence"),
    [
        ("[" * 5000 + "]" * 5000, "mine.toml: brackets stand in brackets too often; allowed: a scenario"),
        ("9" * 5001, "mine.toml, line {line}: a number has more than 4300 digits; allowed: fewer."),
        ("9_" * 5001 + "9", "mine.toml, line {line}: a number has more than 4300 digits; allowed: fewer."),
        ("0x" + "f" * 6000, "mine.toml, line {line}: 'margin.area_m2' is 0xffff"),
    ],
)
def test_what_python_declines_to_read_is_told_too(value: str, sentence: str) -> None:
    before, after = TEMPLATE.split("area_m2 = 40", 1)
    with pytest.raises(ScenarioError) as caught:
        read_scenario_text(f"{before}area_m2 = {value}{after}", "mine.toml")
    assert str(caught.value).startswith(sentence.format(line=before.count("\n") + 1))
    assert len(str(caught.value)) < 200


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("length_m = 2.4", "length_m = -3"),
        ('edges = "buried"', 'edges = "burried"'),
        ('kind = "wren_like"', 'kind = "wren"'),
        ("[season]", "[sesson]"),
        ("plants = 5", "plants = 0"),
        ("area_m2 = 40", "area_m2 = "),
    ],
)
def test_the_line_is_the_one_with_the_mistake(right: str, wrong: str) -> None:
    before = TEMPLATE[: TEMPLATE.index(right)]
    with pytest.raises(ScenarioError, match=f"mine.toml, line {before.count(chr(10)) + 1}: "):
        read_scenario_text(TEMPLATE.replace(right, wrong, 1), "mine.toml")


def test_of_a_misspelt_key_the_spelling_is_told_and_not_what_is_then_missing() -> None:
    with pytest.raises(ScenarioError, match="there is no key 'titel'"):
        read_scenario_text(TEMPLATE.replace("title =", "titel =", 1), "mine.toml")


def test_numbers_of_nature_are_checked_when_a_file_is_read() -> None:
    text = TEMPLATE + '\n[numbers]\n"nobody.knows.this" = 1\n'
    with pytest.raises(ScenarioError, match=r"There is no parameter 'nobody\.knows\.this'"):
        read_scenario_text(text, "mine.toml")


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"", "line 1: the file is empty"),
        ("title = 'Gr\u00fcn'\n".encode("utf-16"), "saved as UTF-16; allowed: UTF-8"),
        ("# one\ntitle = 'Gr\u00fcn'\n".encode("latin-1"), "line 2: a character is not saved as UTF-8"),
        (b"\x00\x01\x02", "this is not TOML"),
        (b"[[beds]]\nname = 'a'\n", "'title' is missing; allowed: text in quotes"),
        (
            b"title = 'a'\nbeds = []\nplace.climate = 'warm_humid'",
            "line 2: 'beds' is an empty list; allowed: a list in square brackets, with at least one",
        ),
        (b"title = 1\n", "'title' is 1; allowed: text in quotes"),
    ],
)
def test_content_that_is_no_scenario_is_refused(tmp_path: Path, content: bytes, sentence: str) -> None:
    path = tmp_path / "odd.toml"
    path.write_bytes(content)
    with pytest.raises(ScenarioError, match=r"odd\.toml") as caught:
        load_scenario(path)
    assert sentence in str(caught.value)


def test_a_byte_order_mark_does_no_harm(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_bytes(b"\xef\xbb\xbf" + TEMPLATE.encode())
    assert load_scenario(path) == read_scenario_text(TEMPLATE, "mine.toml")


def test_windows_line_ends_keep_their_lines() -> None:
    text = TEMPLATE.replace("length_m = 2.4", "length_m = -3", 1)
    with pytest.raises(ScenarioError) as unix:
        read_scenario_text(text, "mine.toml")
    with pytest.raises(ScenarioError) as windows:
        read_scenario_text(text.replace("\n", "\r\n"), "mine.toml")
    assert str(unix.value) == str(windows.value)


@pytest.mark.parametrize(
    "path",
    [
        r'"C:\Users\me\days.csv"',
        r'"weather\days.csv"',
        r'"C:\temp\days.csv"',
        r'"C:\temp\new.csv"',
        r"'weather\days.csv'",
    ],
)
def test_a_path_as_windows_writes_it_is_told_how_to_write(tmp_path: Path, path: str) -> None:
    garden = tmp_path / "mine.toml"
    garden.write_text(TEMPLATE.replace('climate = "warm_humid"', f"weather_file = {path}", 1))
    with pytest.raises(ScenarioError) as caught:
        load_scenario(garden)
    assert str(caught.value).endswith(". A path is written with '/', not with '\\', also on Windows.")
    garden.write_text(TEMPLATE.replace('climate = "warm_humid"', 'weather_file = "days.csv"', 1))
    with pytest.raises(ScenarioError, match=r"a file that is there\.$"):
        load_scenario(garden)


def test_a_weather_file_is_looked_for_beside_the_scenario(tmp_path: Path) -> None:
    text = TEMPLATE.replace('climate = "warm_humid"', 'weather_file = "days.csv"\nlatitude_deg = 40.0', 1)
    path = tmp_path / "mine.toml"
    path.write_text(text)
    with pytest.raises(ScenarioError, match=r"'place\.weather_file' is 'days\.csv'; allowed: a file that is there"):
        load_scenario(path)
    (tmp_path / "days.csv").write_text("date,tmin_c,tmax_c,rain_mm\n")
    scenario = load_scenario(path)
    assert scenario.place.weather_file == str(tmp_path.resolve() / "days.csv")
    before = scenario.fingerprint
    (tmp_path / "days.csv").write_text("date,tmin_c,tmax_c,rain_mm\n2025-01-01,1,2,0\n")
    assert load_scenario(path).fingerprint != before


def test_a_name_that_is_not_there_is_answered_with_near_ones(tmp_path: Path) -> None:
    with pytest.raises(ScenarioError, match="Did you mean 'teaching_garden'"):
        load_scenario("teachng_garden")
    with pytest.raises(ScenarioError, match="is a folder"):
        load_scenario(tmp_path)


def test_a_name_that_no_disk_takes_is_told() -> None:
    with pytest.raises(ScenarioError, match=r"'x+' cannot be read: File name too long\.$"):
        load_scenario("x" * 300)


@given(st.text())
def test_any_text_is_a_scenario_or_a_sentence(text: str) -> None:
    with pytest.raises(ScenarioError):
        read_scenario_text(text, "mine.toml")


@given(st.data())
@settings(max_examples=150, deadline=None)
def test_any_damage_to_a_file_gives_a_scenario_or_a_sentence(data: st.DataObject) -> None:
    start = data.draw(st.integers(0, len(TEMPLATE) - 1))
    end = data.draw(st.integers(start, min(len(TEMPLATE), start + 40)))
    put = data.draw(st.sampled_from(["", "0", '"', "x", "-1", "[", "\n", " = ", "1e999", "inf", "true"]))
    sentence = ""
    try:
        read_scenario_text(TEMPLATE[:start] + put + TEMPLATE[end:], "mine.toml")
    except LeafnestError as error:
        sentence = str(error)
    assert "\n" not in sentence
    assert sentence.startswith(("mine.toml", "Scenario")) or not sentence


@pytest.mark.parametrize("name", scenario_names())
def test_lines_are_those_on_which_keys_stand(name: str) -> None:
    text = (Path(__file__).parents[2] / "scenarios" / f"{name}.toml").read_text(encoding="utf-8")
    rows = text.splitlines()
    lines = key_lines(text)
    assert len(lines) > 50
    for path, number in lines.items():
        words = [part for part in path if isinstance(part, str)]
        is_item = isinstance(path[-1], int)
        assert ("{" in rows[number - 1] or "[[" in rows[number - 1]) if is_item else words[-1] in rows[number - 1]
    first_bed = next(number for number, row in enumerate(rows, start=1) if row.startswith("[[beds]]"))
    assert line_of(("beds", 0, "no_such_key"), lines) == first_bed
    assert line_of(("beds",), lines) == first_bed
    assert line_of(("nowhere",), lines) is None
