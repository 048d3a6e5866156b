"""What the garden map is handed: small, whole, in words, and with its questions on the right days."""

import base64
import json
import re
import zlib
from dataclasses import replace
from datetime import date
from importlib.resources import files

import numpy as np
import pytest

from dashboard.language.tongue import speaking
from dashboard.player.events import MARK_WORDS, MARKS, events_of
from dashboard.player.names import BEES, BIRDS, CROPS, EGGS, ENDS, KINDS, ONE, PLACES
from dashboard.player.pauses import DEFAULT_PAUSES, Pause, stops
from dashboard.player.payload import MOST_DRAWN, drawing_of, one_for, payload, row_names
from dashboard.player.stories import TURNS_OF_A_NEST, story
from dashboard.seasons.moments import MOMENTS
from dashboard.sharing.role import SHARED
from sim.cast import Bee, Bird, Crop, Fate, Species, word
from sim.film import Form, Where, film_season
from sim.film.happenings import NAMES
from sim.film.runs import from_runs
from sim.scenario import load_scenario
from tests.strategies import bed, garden

MOST_BYTES = 600_000
FIRST = date(2025, 4, 20)
NET = [{"do": "cover", "days_after_planting": 0}]


@pytest.fixture(scope="module")
def films():
    made_up = garden(
        bed(), bed("cucumber"), plans={"net": NET}, pests={"arrivals": 4.0},
        birds={"nests": [{"kind": "tit_like", "distance_m": 10}]},
    )  # fmt: skip
    return {plan: film_season(made_up, plan, 3)[0] for plan in made_up.plan_names}


def handed_over(films, pauses=DEFAULT_PAUSES):
    return payload(films, {plan: plan for plan in films}, {plan: dict.fromkeys(MOMENTS) for plan in films}, pauses)


def test_numbers_come_through_whole(films):
    plan = handed_over(films)["plans"][0]
    film = films[plan["plan"]]
    insects = from_runs(zlib.decompress(base64.b64decode(plan["arrays"]["insects"])), film.insects().shape)
    np.testing.assert_array_equal(insects, film.insects())
    holes = from_runs(zlib.decompress(base64.b64decode(plan["arrays"]["holes"])), film.pages.holes_share.T.shape)
    np.testing.assert_allclose(holes.T / 100, film.pages.holes_share, atol=0.005)


def test_what_a_room_reads_is_the_harvest_that_the_guess_was_about(films):
    plan = handed_over(films)["plans"][0]
    film = films[plan["plan"]]
    main = {one["name"]: one["values"][-1] for one in plan["figures"] if one.get("main")}
    assert main["kg fit to sell so far"] == pytest.approx(film.sold_kg.sum(), abs=0.051)
    assert "kg picked so far" not in main


@pytest.mark.parametrize("name", ["teaching_garden", "market_garden"])
def test_two_plans_weigh_little_enough_for_a_slow_network(name):
    scenario = load_scenario(name)
    shown = {plan: film_season(scenario, plan, 1)[0] for plan in ("nothing", "spray_weekly")}
    assert len(json.dumps(handed_over(shown))) < MOST_BYTES


def test_equal_films_are_handed_over_alike_and_others_are_not(films):
    assert handed_over(films)["id"] == handed_over(films)["id"]
    with speaking("es"):
        assert handed_over(films)["locale"] == "es-US"  # 24.8, as on the rest of the page
    assert handed_over({"net": films["net"]})["id"] != handed_over(films)["id"]


@pytest.mark.parametrize(
    ("most", "each"), [(1, 1), (MOST_DRAWN, 1), (MOST_DRAWN + 1, 2), (5 * MOST_DRAWN, 5), (9999, 100)]
)
def test_one_drawing_stands_for_as_many_as_it_takes(most, each):
    assert one_for(most) == each


def drawn_in(script):
    """Return what a script has a drawing for; without one a crop would be drawn as mustard, an insect not at all."""
    text = (files("dashboard.player") / "script" / script).read_text(encoding="utf-8")
    return set(re.findall(r"^  (\w+): [{(]", text, re.MULTILINE))


def test_every_kind_and_happening_has_a_name_and_a_drawing():
    drawn = drawn_in("2_creatures.js")
    for species, form in KINDS:
        assert drawing_of(species, form) in drawn, "give it a drawing in dashboard/player/script/2_creatures.js"
    grown = drawn_in("3_plants.js")
    for crop in Crop:
        assert word(crop) in grown, "give it colors and a shape in CROPS of dashboard/player/script/3_plants.js"
    shown = {(species, form) for species in Species for form in Form} - KINDS.keys()
    assert shown == {
        (Species.HARLEQUIN_BUG, Form.PUPA), (Species.PARASITOID_WASP, Form.EGG), (Species.PARASITOID_WASP, Form.YOUNG),
    }  # fmt: skip
    assert (set(ENDS), set(PLACES), set(CROPS)) == (set(Fate), set(Where), set(Crop))
    assert (set(BIRDS), set(BEES), set(ONE)) == (set(Bird), set(Bee), set(Species))
    assert set(EGGS) == set(Species) - {Species.PARASITOID_WASP}
    assert set(MARKS) == set(NAMES)
    assert set(MARKS.values()) == set(MARK_WORDS)
    marks = (files("dashboard.player") / "script" / "7_line.js").read_text(encoding="utf-8")
    assert all(f"\n  {name}: (c" in marks for name in MARK_WORDS)


def test_a_bird_in_a_net_is_told_apart_from_a_nest_that_is_lost():
    assert MARKS["bird_in_net"] != MARKS["nest_lost"]
    assert [name for name, drawn in MARKS.items() if drawn == MARKS["bird_in_net"]] == ["bird_in_net"]
    assert "net" not in MARK_WORDS[MARKS["chicks_starved"]].replace("nest", "").split()


def test_what_is_not_watched_yet_is_handed_over_and_is_no_part_of_the_film(films):
    titles, days = {plan: plan for plan in films}, {plan: dict.fromkeys(MOMENTS) for plan in films}
    offering = payload(films, titles, days, DEFAULT_PAUSES, unwatched={"spray": "Spray it"})
    assert offering["unwatched"] == [
        {"plan": "spray", "words": "Not yet watched: Spray it. Show it on the second map."}
    ]
    assert offering["id"] == handed_over(films)["id"]


def test_no_sentence_stands_in_the_script():
    for part in (files("dashboard.player") / "script").iterdir():
        code = re.sub(r"//.*", "", part.read_text(encoding="utf-8"))
        said = re.findall(r'"([^"\n]*)"|`([^`]*)`', code)
        for plain, template in said:
            words = re.sub(r"\$\{[^}]*\}|<[^>]*>|rgba?\([^)]*\)", "", plain or template)
            assert not re.search(r"[A-Z]?[a-z]{3,} [a-z]{2,} [a-z]{2,}", words), (part.name, plain or template)


def seen(**days):
    return {"first_egg": None, **days}


def test_it_stops_on_the_first_day_that_any_plan_sees_the_event():
    pause = Pause("first_egg", "05-10", "Who?", "Look.")
    found = stops([pause], {"a": seen(first_egg=12), "b": seen(first_egg=15)}, {"a": "A", "b": "B"}, FIRST, 90)
    assert [(stop["day"], stop["says"], stop["question"]) for stop in found] == [
        (12, ["A: today.", "B: not yet."], "Who?")
    ]


def test_a_plan_that_never_sees_it_says_so_on_the_fallback_day():
    pause = Pause("first_egg", "05-10", "Who?")
    found = stops([pause], {"a": seen(first_egg=12), "b": seen()}, {"a": "A", "b": "B"}, FIRST, 90)
    assert [stop["day"] for stop in found] == [12, 20]
    assert found[1]["says"] == ["A: on May 2.", "B: never this season."]
    alone = stops([pause], {"b": seen()}, {"b": "B"}, FIRST, 90)
    assert [(stop["day"], stop["says"]) for stop in alone] == [(20, ["B: never this season."])]


def test_a_fallback_day_out_of_season_is_its_last_or_first():
    for day, stop_day in (("12-24", 89), ("01-02", 0)):
        assert stops([Pause("hatch", day, "Who?")], {"b": {"hatch": None}}, {"b": "B"}, FIRST, 90)[0]["day"] == stop_day


def test_nobody_is_asked_before_anything_is_seen():
    pause = Pause("first_egg", "04-25", "Who?")
    found = stops([pause], {"a": seen(first_egg=12), "b": seen()}, {"a": "A", "b": "B"}, FIRST, 90)
    assert [stop["day"] for stop in found] == [12]
    assert found[0]["says"] == ["A: today.", "B: never this season."]


@pytest.mark.parametrize(("is_class", "hint"), [("yes", ""), ("", "For the teacher: Look at the leaves.")])
def test_a_hint_is_for_the_teacher_and_stays_off_the_class_s_devices(monkeypatch, is_class, hint):
    monkeypatch.setenv(SHARED, is_class)
    pause = Pause("first_egg", "05-01", "Who laid here first?", "Look at the leaves.")
    assert [stop["prompt"] for stop in stops([pause], {"net": seen()}, {"net": "Net"}, FIRST, 260)] == [hint]


def test_the_pauses_of_every_garden_are_moments_that_are_known():
    assert [pause.event for pause in DEFAULT_PAUSES] == ["first_egg", "first_damage", "hatch", "first_picking"]
    assert {pause.event for pause in DEFAULT_PAUSES} <= MOMENTS.keys()


def test_events_tell_what_was_done_and_where(films):
    said = [event.words for event in events_of(films["net"])]
    assert "Net on: collard bed." in said or "Net on: every bed." in said
    assert any(words.startswith("First holes to be seen: ") for words in said)
    assert not any("Net on" in event.words for event in events_of(films["nothing"]))


def test_a_story_is_told_as_far_as_the_day_that_is_shown(films):
    film = films["nothing"]
    number = next(n for n, one in enumerate(film.followed) if one.eaten_cm2 > 0 and one.fate != Fate.ALIVE)
    one = film.followed[number]
    head, whole = story(film, "insect", number, film.days - 1)
    assert re.fullmatch(r"[a-z ]+ \d+", head)
    assert any("it ate" in sentence for sentence in whole)
    assert any(sentence.endswith(ENDS[Fate(one.fate)]) for sentence in whole)
    _, so_far = story(film, "insect", number, one.steps[0].day)
    assert "It is alive today." in so_far or one.end_day == one.steps[0].day
    if one.steps[0].day > 0:
        assert story(film, "insect", number, one.steps[0].day - 1)[1] == ["It has not come to the garden yet."]


def test_a_plant_and_a_nest_have_stories(films):
    film = films["nothing"]
    head, sentences = story(film, "plant", 2, 80)
    assert head == "collard plant 3 in collard bed"
    assert any(sentence.startswith("It has been here since") for sentence in sentences)
    assert sentences[-1].startswith(("On it today: ", "No insect sits on it today."))
    head, sentences = story(film, "nest", 0, film.days - 1)
    assert head == "nest of a tit-like bird, 10 m away"
    assert any("chicks hatched" in sentence for sentence in sentences)


def test_a_nest_s_story_tells_one_bird_otherwise_than_several(films):
    """The record of a nest is rewritten, so that each turn comes once with one and once with three."""
    film = films["nothing"]
    nests = film.nests[:3].copy()
    for column in TURNS_OF_A_NEST:
        nests[column] = np.array([0, 1, 4]).reshape(-1, 1)
    sentences = story(replace(film, nests=nests), "nest", 0, 2)[1]
    assert sum("chick hatched" in one or "chick starved" in one for one in sentences) == 2
    assert sum("3 chicks" in one for one in sentences) == 3
    assert any("one of its birds was caught" in one for one in sentences)
    assert any("3 of its birds were caught" in one for one in sentences)


@pytest.mark.parametrize(("kind", "number"), [("insect", 9999), ("cat", 0)])
def test_nobody_has_a_story_who_is_not_there(films, kind, number):
    with pytest.raises(IndexError):
        story(films["nothing"], kind, number, 3)


def test_beds_that_are_alike_are_called_by_one_name_and_others_by_their_own():
    beds = ["collards-1", "collards-2", "kale-7", "cabbage", "cabbage-1"]
    assert row_names(beds) == ["collards", "collards", "kale-7", "cabbage", "cabbage"]
