"""A film shows what was there, and the season under the camera is the season without it."""

import pickle

import numpy as np
import pytest

from sim.cast import PLANT_EATERS, Fate, Species, word
from sim.film import Form, Look, Where, film_season
from sim.film.followed import FOLLOWED_OF_A_SPECIES
from sim.film.pages import FORMS, MOST_SPOTS, Spots
from sim.film.runs import as_runs, from_runs
from sim.layout import lay_out
from sim.season import run_season
from tests.strategies import bed, garden

NET = [{"do": "cover", "days_after_planting": 0}, {"do": "uncover", "on": "06-20"}]
SPRAY = [{"do": "spray", "product": "pyrethrins", "every_days": 10, "since": "05-20", "hour": "dusk"}]
NESTS = {"nests": [{"kind": "tit_like", "distance_m": 10}]}


@pytest.fixture(scope="module")
def scenario():
    return garden(
        bed(), bed("cucumber", start="seed"), plans={"net": NET, "spray": SPRAY}, pests={"arrivals": 4.0}, birds=NESTS
    )  # fmt: skip


@pytest.fixture(scope="module")
def filmed(scenario):
    return {plan: film_season(scenario, plan, 3) for plan in scenario.plan_names}


def in_beds(film, species, form):
    """Return how many of a kind the beds of a film hold each morning, the margin left out."""
    beds = len(film.bed_names)
    of_place = np.concatenate([film.spots.bed, np.arange(beds + 1), np.arange(beds + 1)])
    return film.insects()[species * FORMS + form][of_place < beds].sum(axis=0)


def names(film):
    return [one.name for one in film.happenings]


@pytest.mark.parametrize("plan", ["nothing", "net", "spray"])
def test_the_season_under_the_camera_is_the_season_without_it(scenario, filmed, plan):
    _, season = filmed[plan]
    alone = run_season(scenario, plan, 3)
    assert season.summary == alone.summary
    assert season.garden.chronicle.rows.tobytes() == alone.garden.chronicle.rows.tobytes()
    assert season.garden.insects.exits.tobytes() == alone.garden.insects.exits.tobytes()


@pytest.mark.parametrize("plan", ["nothing", "net"])
def test_each_day_shows_as_many_of_each_kind_as_the_chronicle_counts(filmed, plan):
    film, season = filmed[plan]
    said = {Form.EGG: "eggs", Form.YOUNG: "young", Form.PUPA: "pupae", Form.ADULT: "adults"}
    seen = 0
    for species in PLANT_EATERS:
        for form, form_word in said.items():
            if (species, form) == (Species.HARLEQUIN_BUG, Form.PUPA):
                continue
            counted = season.garden.chronicle.column(f"{word(species)}_{form_word}")
            np.testing.assert_array_equal(in_beds(film, species, form), counted)
            seen += counted.sum()
    np.testing.assert_array_equal(
        in_beds(film, Species.PARASITOID_WASP, Form.ADULT), season.garden.chronicle.column("parasitoid_wasps")
    )
    assert seen > 1000


def test_the_same_season_gives_the_same_bytes(scenario, filmed):
    again, _ = film_season(scenario, "net", 3)
    assert pickle.dumps(again) == pickle.dumps(filmed["net"][0])


def test_what_the_gardener_did_is_seen_on_its_day(filmed):
    net, spray = filmed["net"][0], filmed["spray"][0]
    on = [one for one in net.happenings if one.name == "cover_on"]
    off = [one for one in net.happenings if one.name == "cover_off"]
    assert [one.bed for one in on] == [0, 1]
    assert {net.date(one.day).isoformat() for one in off} == {"2025-06-20"}
    assert net.pages.net[on[0].day, 0] > 0
    assert net.pages.net[off[0].day, 0] == 0
    assert "turned_away" in names(net)
    days = {spray.date(one.day).isoformat() for one in spray.happenings if one.name == "sprayed"}
    assert min(days) >= "2025-05-20"
    assert not {"cover_on", "sprayed", "turned_away"} & set(names(filmed["nothing"][0]))


def test_plants_come_up_are_eaten_and_are_picked(filmed):
    film, season = filmed["nothing"]
    looks = film.pages.looks
    assert (looks[0, film.spots.bed == 0] == Look.GROWING).all()  # set out on the first day
    assert (looks[0, film.spots.bed == 1] == Look.ABSENT).all()  # sown that day: nothing to be seen yet
    assert {int(Look.RIPE), int(Look.FLOWERING)} <= set(looks.ravel().tolist())
    share = film.pages.holes_share
    assert 0 <= share.min() <= share.max() < 1
    damage = film.first_day("holes_seen")
    assert share[: damage - 1, : season.garden.crop_plants].max() < 0.01 <= share[damage].max()
    assert damage == np.flatnonzero(season.garden.chronicle.column("plants_with_holes"))[0]
    assert damage > np.flatnonzero(season.garden.chronicle.column("leaf_eaten_m2"))[0]  # a bite or two, nobody sees
    assert film.first_day("picking_begins") == int(np.argmax(film.picked_kg > 0))


def test_birds_and_nests_are_told_day_by_day(filmed):
    film, season = filmed["nothing"]
    assert film.nests["fledged"][-1].sum() == season.summary["nestlings_fledged_count"]
    hatched = sum(one.count for one in film.happenings if one.name == "hatch")
    assert hatched == season.garden.nests.nests["hatched"].sum()
    assert film.bird_minutes.sum() > 0
    assert film.pages.taken_by_birds.sum() == pytest.approx(_taken(season))
    assert film.pages.bee_visits.sum() > 0


def _taken(season):
    birds = [Fate.EATEN_BY_TIT_LIKE_BIRD, Fate.EATEN_BY_WREN_LIKE_BIRD, Fate.EATEN_BY_WOODPECKER_LIKE_BIRD]
    return season.garden.insects.exits[..., birds].sum()


def test_a_followed_insect_has_a_whole_life(filmed):
    film, season = filmed["nothing"]
    assert 0 < len(film.followed) <= 200
    ends = season.garden.insects.exits.sum(axis=(0, 1, 3))
    for one in film.followed:
        assert one.steps[0].day <= one.end_day
        assert one.fate == Fate.ALIVE or ends[one.species, one.fate] > 0
        assert all(step.plant >= 0 or step.where in (Where.AIR, Where.SOIL, Where.STALKS) for step in one.steps)
    eaters = [one for one in film.followed if one.eaten_cm2 > 0]
    assert Species.CABBAGE_WHITE in {one.species for one in eaters}
    assert Species.PARASITOID_WASP not in {one.species for one in eaters}


def test_who_is_followed_hangs_on_the_insect_and_not_on_the_plan(filmed):
    chosen = {plan: {one.key: one for one in film.followed} for plan, (film, _) in filmed.items()}
    shared = chosen["nothing"].keys() & chosen["spray"].keys()
    assert len(shared) > len(chosen["nothing"]) / 2
    assert all(chosen["nothing"][key].lot == chosen["spray"][key].lot for key in shared)
    for followed in chosen.values():
        for species in Species:
            assert sum(one.species == species for one in followed.values()) <= FOLLOWED_OF_A_SPECIES


def test_a_large_garden_is_gathered_into_spots_of_one_bed():
    large = garden(bed("kale", name="long", length_m=60, row_spacing_m=0.3, plant_spacing_m=0.2), bed())
    layout = lay_out(large)
    spots = Spots.of(layout)
    assert len(layout.crop) > MOST_SPOTS >= len(spots) - len(layout.names)
    assert spots.plants.sum() == len(layout.crop)
    np.testing.assert_array_equal(layout.bed, spots.bed[spots.of_plant])


@pytest.mark.parametrize("numbers", [[], [0], [0, 0, 0, 127, 128, 128, 70_000, 70_000, 0], [5] * 300])
def test_runs_give_back_every_number(numbers):
    array = np.array(numbers, np.int64)
    assert from_runs(as_runs(array), (len(numbers),)).tolist() == numbers


def test_runs_hold_no_negative_number():
    with pytest.raises(ValueError, match="one is -2"):
        as_runs(np.array([1, -2]))
