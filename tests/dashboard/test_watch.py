"""Watching a season: the guess locks when it starts, whoever has none is not held up, and the same stands in words."""

import pytest

from dashboard.screens.watch import BESIDE
from dashboard.seasons.filming import film_wishes, live_on_film
from dashboard.seasons.wishes import live, wishes
from dashboard.seasons.work import Desk
from sim.workers import here
from tests.dashboard.test_page import app, button, one_desk, opened, text_of  # noqa: F401
from tests.strategies import bed, garden

GUESSED = {"garden": "leaf_bed", "harvest_order": "2.1.3", "birds_order": "1.2.3"}


def maps(page):
    return [one for one in page.get("bidi_component") if one.key == "garden map"]


def test_a_guess_locks_when_the_season_starts(app):  # noqa: F811
    page = opened(app, "watch", **GUESSED)
    assert not maps(page)
    button(page, "start the season").click().run()
    assert not page.exception
    assert len(maps(page)) == 1
    assert page.session_state["lesson"].guess.is_locked


def test_whoever_has_no_guess_is_offered_one_and_not_held_up(app):  # noqa: F811
    page = opened(app, "watch", garden="leaf_bed")
    assert any("No guess yet" in link.proto.label for link in page.get("page_link"))
    assert len(maps(page)) == 1


def test_one_plan_can_be_watched_alone(app):  # noqa: F811
    page = opened(app, "watch", garden="leaf_bed")
    assert sum(title in text_of(page) for title in ("**Do nothing", "**Net from planting")) == 2
    page.selectbox(key="watch second").set_value("").run()
    assert not page.exception
    assert "**Net from planting" not in text_of(page)


def test_the_plan_that_is_not_watched_yet_comes_beside_the_first_when_asked(app):  # noqa: F811
    page = opened(app, "watch", garden="leaf_bed")
    assert "Not yet watched: Spray every week" in str(maps(page)[0].proto)
    page.session_state[BESIDE] = "spray_weekly"  # as the button in the map does
    page.run()
    assert not page.exception
    assert page.selectbox(key="watch second").value == "spray_weekly"
    assert "**Spray every week" in text_of(page)
    assert "Not yet watched" not in str(maps(page)[0].proto)


def test_the_season_stands_there_in_words_and_numbers(app):  # noqa: F811
    page = opened(app, "watch", garden="leaf_bed")
    tables = [table.value for table in page.table]
    happened = " ".join(" ".join(row) for table in tables[:2] for row in table.astype(str).to_numpy())
    assert "Planted: " in happened
    assert "Net on: " in happened
    assert len(tables[2]) == 38  # every seventh of 260 days


@pytest.fixture(scope="module")
def scenario():
    return garden(bed(), pests={"arrivals": 2.0})


def test_a_film_keeps_the_numbers_of_its_season(scenario):
    filmed, lived = live_on_film(scenario, "nothing", 2), live(scenario, "nothing", 2)
    assert filmed.summary == lived.summary
    assert (filmed.ends == lived.ends).all()
    assert filmed.film.plan == "nothing"
    assert filmed.days_of["first_picking"] == filmed.film.first_day("picking_begins")
    assert filmed.days_of["first_damage"] == filmed.film.first_day("holes_seen")


def test_films_and_numbers_of_a_season_are_kept_apart(scenario):
    desk = Desk(here(), 1)
    [numbers], [film] = wishes(scenario, ["nothing"], [1]), film_wishes(scenario, ["nothing"], 1)["nothing"]
    assert numbers.key != film.key
    with desk.order([numbers, film]) as order:
        found = order.wait(60) | order.wait(0)
    assert hasattr(found[film.key], "reel")
    assert not hasattr(found[numbers.key], "reel")


def test_only_so_many_films_are_kept(scenario, monkeypatch):
    monkeypatch.setattr("dashboard.seasons.work.FILMS_REMEMBERED", 1)
    desk = Desk(here(), 1)
    wished = [film_wishes(scenario, ["nothing"], season)["nothing"][0] for season in (1, 2)]
    for wish in wished:
        with desk.order([wish]) as order:
            assert order.wait(60)
    assert list(desk._remembered) == [wished[1].key]
