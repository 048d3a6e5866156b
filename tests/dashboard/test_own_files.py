"""A visitor's own garden and weather: clear messages, no way to other files, nothing kept after the visit."""

import dataclasses
from datetime import date
from pathlib import Path

import pytest

import dashboard.seasons.work
from dashboard.brought.brought_weather import BroughtWeather
from dashboard.brought.own_files import (
    Brought,
    Station,
    garden_of_scenario,
    garden_with_weather,
    scenario_text,
)
from dashboard.brought.shelf import KEPT_SECONDS, MOST_GARDENS, Shelf, Shelves
from dashboard.lesson.lesson import first_lesson
from dashboard.lesson.lesson_code import code_of, lesson_of_code
from dashboard.seasons.wishes import wishes
from dashboard.seasons.work import Desk
from sim.errors import LeafnestError
from sim.scenario import load_scenario, scenario_names
from sim.scenario.files import read_scenario_text
from sim.season import weather_notes
from sim.workers import here
from tests.dashboard.own_things import scenario_toml, weather_csv

HERE = Station(45.0, 100.0)


def test_a_scenario_file_is_a_garden_known_by_what_it_holds_not_by_its_name(tmp_path):
    one, garden = garden_of_scenario(Brought("mine.toml", scenario_toml()), None, tmp_path)
    other, _ = garden_of_scenario(Brought("Mi huerto.toml", scenario_toml()), None, tmp_path)
    assert one == other == garden.name
    changed = scenario_toml(replaced={"cabbage_white = 1": "cabbage_white = 0.5"})
    assert garden_of_scenario(Brought("mine.toml", changed), None, tmp_path)[0] != one


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"", "mine.toml, line 1: the file is empty"),
        (b"garden = \n", "mine.toml, line 1: this is not TOML"),
        ("title = 'ü'".encode("utf-16"), "saved as UTF-16"),
        (b"\xff\xfa", "not saved as UTF-8"),
        (b"title = 'x'\nsprinkler = 3\n", "sprinkler"),
    ],
)
def test_what_is_wrong_in_a_scenario_is_told_in_one_sentence(tmp_path, content, told):
    with pytest.raises(LeafnestError) as error:
        garden_of_scenario(Brought("mine.toml", content), None, tmp_path)
    assert told in str(error.value)
    assert "\n" not in str(error.value)


@pytest.mark.parametrize("path", ["/etc/passwd", "../secret.csv", "pyproject.toml", "other.csv"])
def test_a_scenario_can_name_no_file_of_this_machine(tmp_path, path):
    (tmp_path / "other.csv").write_bytes(weather_csv())
    (tmp_path.parent / "secret.csv").write_bytes(weather_csv())
    text = scenario_toml(replaced={"[place]": f'[place]\nweather_file = "{path}"\nlatitude_deg = 45.0'})
    text = b"\n".join(line for line in text.splitlines() if not line.startswith(b"climate"))
    for days in (None, Brought("days.csv", weather_csv())):
        with pytest.raises(LeafnestError, match="give that file with it, under the same name"):
            garden_of_scenario(Brought("mine.toml", text), days, tmp_path)


@pytest.mark.parametrize("name", ["../days.csv", "/tmp/days.csv", "", ".."])
def test_a_file_with_a_way_in_its_name_is_refused(name):
    with pytest.raises(LeafnestError, match="plain name"):
        Brought(name, b"x")


def test_a_large_file_is_refused():
    with pytest.raises(LeafnestError, match="2 MB are allowed"):
        Brought("days.csv", b"x" * (2 << 20) + b"x")


def test_a_garden_too_large_for_a_class_is_refused(tmp_path):
    garden = load_scenario("market_garden")
    more = garden.with_changes({f"beds.{garden.beds[0].name}.repeat": garden.beds[0].repeat * 30})
    with pytest.raises(LeafnestError, match="plants; 10000 are allowed here"):
        garden_of_scenario(Brought("large.toml", scenario_text(more).encode()), None, tmp_path)


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"margin.wild_host_plants": 10_000}, "plants; 10000 are allowed here"),
        ({"birds.nests.0.count": 61}, "pairs of birds; 60 are allowed here"),
    ],
)
def test_what_stands_beside_the_beds_counts_too(tmp_path, changes, told):
    more = load_scenario("leaf_bed").with_changes(changes)
    with pytest.raises(LeafnestError, match=told):
        garden_of_scenario(Brought("large.toml", scenario_text(more).encode()), None, tmp_path)


def test_a_station_of_the_southern_half_is_told_and_not_blamed_on_the_years_of_its_file(tmp_path):
    with pytest.raises(LeafnestError, match=r"'place\.latitude_deg' is -35\.0; allowed: 23\.5 to 66 degrees north"):
        garden_with_weather(load_scenario("leaf_bed"), Brought("far.csv", weather_csv()), Station(-35.0), tmp_path)


def test_local_weather_for_a_known_garden(tmp_path):
    base = load_scenario("leaf_bed")
    name, garden = garden_with_weather(base, Brought("near.csv", weather_csv(days=800)), HERE, tmp_path)
    assert garden.season.calendar_year == 2024
    assert "weather of near.csv, 2024" in garden.title
    assert garden.place.climate is None
    other = weather_csv(days=800).replace(b"4.5", b"4.6", 1)
    assert garden_with_weather(base, Brought("near.csv", other), HERE, tmp_path / "2")[0] != name


def test_two_seasons_in_a_row_need_the_days_of_both_years(tmp_path):
    base = load_scenario("leaf_bed").with_changes({"season.years": 2})
    _name, garden = garden_with_weather(base, Brought("near.csv", weather_csv(days=1096)), HERE, tmp_path)
    assert garden.season.calendar_year == 2024
    short = Brought("near.csv", weather_csv())
    with pytest.raises(LeafnestError, match="all days from 03-01 to 11-15 of 2 years in a row"):
        garden_with_weather(base, short, HERE, tmp_path / "2")
    file = Brought("mine.toml", scenario_text(garden).replace("2024", "2023").encode())
    with pytest.raises(LeafnestError, match="2024-03-01 to 2024-11-15 was asked for"):
        garden_of_scenario(file, short, tmp_path / "3")


def test_what_was_done_to_a_weather_file_is_told(tmp_path):
    base = load_scenario("leaf_bed")
    assert not weather_notes(base)
    days = b"".join(line for line in weather_csv().splitlines(keepends=True) if not line.startswith(b"2023-05-02"))
    _name, garden = garden_with_weather(base, Brought("near.csv", days), HERE, tmp_path)
    assert "1 day was filled by a straight line between neighbours: 2023-05-02." in weather_notes(garden)


@pytest.mark.parametrize(
    ("days", "told"),
    [
        (weather_csv(first=date(2023, 5, 1), days=200), "the season needs all days from 03-01 to 11-15 of one year"),
        (b"date,tmin_c,tmax_c,rain_mm\n2023-01-01,9,4,0\n", "near.csv"),
        (b"day of days\n", "no known header"),
        (b"%PDF-1.7", "PDF"),
        (weather_csv(header="date,tmin,tmax,rain").replace(b",19.0,", b",99.0,"), "temperature_unit"),
    ],
)
def test_what_is_wrong_in_a_weather_file_is_told_in_one_sentence(tmp_path, days, told):
    with pytest.raises(LeafnestError) as error:
        garden_with_weather(load_scenario("leaf_bed"), Brought("near.csv", days), HERE, tmp_path)
    assert told in str(error.value)
    assert str(tmp_path) not in str(error.value)


def test_a_scenario_with_its_weather_file(tmp_path):
    _name, garden = garden_with_weather(load_scenario("leaf_bed"), Brought("near.csv", weather_csv()), HERE, tmp_path)
    text = scenario_text(garden).encode()
    _name, again = garden_of_scenario(Brought("mine.toml", text), Brought("near.csv", weather_csv()), tmp_path / "2")
    assert again.season == garden.season
    with pytest.raises(LeafnestError, match="give that file with it"):
        garden_of_scenario(Brought("mine.toml", text), None, tmp_path / "3")
    with pytest.raises(LeafnestError, match="names no weather file"):
        garden_of_scenario(Brought("x.toml", scenario_toml()), Brought("near.csv", weather_csv()), tmp_path / "4")


@pytest.mark.parametrize("name", scenario_names())
def test_a_garden_taken_away_as_a_file_is_the_same_when_brought_again(name):
    garden = load_scenario(name).with_changes({"pests.arrivals": 2.0})
    assert read_scenario_text(scenario_text(garden), f"{name}.toml") == garden


@pytest.fixture
def the_desk(monkeypatch):
    weather = BroughtWeather()
    monkeypatch.setattr("dashboard.brought.shelf.brought_weather", lambda: weather)
    found = Desk(here(), 1, task=lambda scenario, plan, season: f"{scenario.name} {plan} {season}")
    monkeypatch.setattr(dashboard.seasons.work, "desk", lambda: found)
    return found


def test_nothing_is_kept_after_the_visit(the_desk):
    """Neither the file, nor the garden, nor what its seasons gave; those of others stay."""
    here_now, ended = {"ann", "ben"}, []
    shelves = Shelves(here_now.__contains__, ended.append)
    shelf = shelves.new("ann")
    name, garden = garden_with_weather(
        load_scenario("leaf_bed"), Brought("near.csv", weather_csv()), HERE, shelf.folder_for(weather_csv())
    )
    shelf.put(name, garden)
    own = wishes(garden, garden.plan_names[:2], [1])
    common = wishes(load_scenario("leaf_bed"), ["net"], [1])
    the_desk.order([*own, *common])
    shelf.note(wish.key for wish in own)
    file = Path(garden.place.weather_file)
    folder = file.parent.parent
    assert file.is_file()

    assert shelves.look(now=1e9) == 1  # still here, however late
    assert file.is_file()
    here_now.remove("ann")
    assert shelves.look(now=1e9 + KEPT_SECONDS - 1) == 1  # a short cut of the line loses nothing
    assert file.is_file()
    assert shelves.look(now=1e9 + KEPT_SECONDS + 1) == 0
    assert not folder.exists()
    assert shelves.of("ann") is None
    assert not shelf.gardens
    assert ended == ["ann"]
    assert set(the_desk._remembered) == {wish.key for wish in common}


def brought(shelf, file):
    """Return a garden under the weather that a visitor brings under a name of their own."""
    days = Brought(file, weather_csv())
    return garden_with_weather(load_scenario("leaf_bed"), days, HERE, shelf.folder_for(days.content))


def test_weather_that_two_brought_stays_until_the_last_of_them_leaves(the_desk):
    """A season that both wait for is run once, with the file of the first; she leaves before it begins."""
    ann, ben = Shelf(), Shelf()
    (first, of_ann), (second, of_ben) = (brought(shelf, "near.csv") for shelf in (ann, ben))
    brought(ann, "near.csv")  # twice the same is still one visitor's
    assert first == second

    def read(scenario, plan, season):
        return Path(scenario.place.weather_file).read_bytes()

    desk = Desk(here(), 1, task=read, is_open=False)
    with desk.order(wishes(of_ann, ["nothing"], [1])):
        order = desk.order(wishes(of_ben, ["nothing"], [1]))
    ann.clear()
    desk.open()
    assert list(order.wait(10).values()) == [weather_csv()]
    ben.clear()
    assert not Path(of_ann.place.weather_file).parent.parent.exists()
    again, _garden = brought(ben, "near.csv")
    assert again == first
    ben.clear()


def test_one_visitor_does_not_see_what_another_brought(the_desk):
    shelves = Shelves(lambda _visit: True, print)
    shelves.new("ann").put("file.000000000000", load_scenario("leaf_bed"))
    assert shelves.of("ben") is None
    assert not shelves.new("ben").gardens
    assert shelves.new("ann").gardens
    shelves.new("ann").clear()
    shelves.new("ben").clear()


def test_a_visitor_has_a_few_gardens_at_a_time(the_desk):
    shelf = Shelf()
    for number in range(MOST_GARDENS + 3):
        shelf.put(f"file.{number:012x}", load_scenario("leaf_bed"))
    assert len(shelf.gardens) == MOST_GARDENS
    shelf.clear()


def test_a_code_about_a_file_opens_once_the_file_is_brought(tmp_path):
    known = {name: load_scenario(name) for name in scenario_names()}
    name, garden = garden_of_scenario(Brought("mine.toml", scenario_toml()), None, tmp_path)
    code = code_of(dataclasses.replace(first_lesson({**known, name: garden}, name), season=5), {**known, name: garden})
    assert "with the mark" in lesson_of_code(code, known)[1][0]
    lesson, said = lesson_of_code(code, {**known, name: garden})
    assert (lesson.garden, lesson.season, said) == (name, 5, [])
