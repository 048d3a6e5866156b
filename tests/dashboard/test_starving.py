"""What is starved stands beside what is killed, both counted of a hundred; survival falls from stage to stage."""

import numpy as np
import pytest

from dashboard.charts import stages_picture, starving_picture
from dashboard.language.saying import MINUS
from dashboard.seasons.ends import STEPS_OF_A_LIFE, reached
from dashboard.seasons.starving import KILLED, misses, starving_sentences
from dashboard.seasons.wishes import Lived
from sim.cast import FATES, SPECIES, Fate, Species, Stage

PLANS = {"nothing": "Do nothing", "spray": "Spray it"}
SEASONS = 12


def ends(sprayed, total=100):
    counts = np.zeros((SPECIES, len(Stage), FATES), dtype=np.int32)
    counts[Species.CABBAGE_WHITE, Stage.INSTAR_2, Fate.SPRAYED] = sprayed
    counts[Species.CABBAGE_WHITE, Stage.EGG, Fate.FAILED] = total - sprayed - 10
    counts[Species.CABBAGE_WHITE, Stage.ADULT, Fate.OLD_AGE] = 10
    return counts


def lived():
    """Return twelve seasons in which a spray kills a quarter, birds miss two fifths, and bees come more often."""
    luck = np.random.default_rng(3).uniform(0.9, 1.1, size=SEASONS)
    plain = [Lived({"insects_to_birds_kj": 50.0 * one, "flower_visits_count": 100.0}, ends(0)) for one in luck]
    sprayed = [Lived({"insects_to_birds_kj": 30.0 * one, "flower_visits_count": 120.0}, ends(25)) for one in luck]
    return {"nothing": plain, "spray": sprayed}


def test_killed_and_missed_are_counted_of_a_hundred():
    rows = {one.words: one for one in misses(lived())["spray"]}
    assert rows[KILLED].of_100 == pytest.approx(25)
    birds = rows["meals in the garden that birds miss"]
    assert birds.of_100 == pytest.approx(40)
    assert birds.often == SEASONS
    assert rows["bees' visits that flowers miss"].of_100 == pytest.approx(-20)
    assert "meals that hunters and wasps miss" not in rows  # nobody hunted under the first plan


def test_sentences_tell_losses_gains_and_what_is_open():
    said = starving_sentences(misses(lived()), PLANS, SEASONS)
    assert said[0].startswith("**Spray it**: 25 killed by spray or hand, of 100 eggs.")
    assert "Meals in the garden that birds miss: 40 of 100, less in 12 of 12 seasons." in said[0]
    assert "none; there were 20 of 100 more" in said[0]
    same = lived()
    same["spray"] = same["nothing"]
    assert "level, or too close to call" in starving_sentences(misses(same), PLANS, SEASONS)[0]


def test_the_picture_says_the_same():
    scene = starving_picture.starving_scene(misses(lived()), PLANS)
    assert scene.table.iloc[0].tolist() == [KILLED, "0", "25"]
    assert [row[-1] for row in scene.table.to_numpy() if "bees" in row[0]] == [f"{MINUS}20"]
    assert "Spray it: killed by spray or hand, of 100 eggs 25, meals in the garden that birds miss 40" in scene.alt
    assert starving_picture.draw(scene).to_dict()["layer"]


def test_no_mark_lies_on_an_end_of_the_axis():
    scene = starving_picture.starving_scene(misses(lived()), PLANS)
    marks = starving_picture.draw(scene).to_dict()["layer"][-1]
    low, high = marks["encoding"]["x"]["scale"]["domain"]
    narrowest_px = 160  # of the scale, on a phone
    radius = marks["mark"]["size"] ** 0.5 / 2
    free = radius * (high - low) / narrowest_px
    assert low + free <= scene.frame["of_100"].min() < 0
    assert high - free >= 100


def test_survival_never_rises_from_stage_to_stage():
    counts = ends(25).sum(axis=0)
    steps = list(reached(counts).values())
    assert steps == sorted(steps, reverse=True)
    assert steps[0] == 100
    assert steps[-1] == 10
    scene = stages_picture.stages_scene({"nothing": counts, "spray": counts * 0}, PLANS, "cabbage white")
    assert len(scene.frame) == len(STEPS_OF_A_LIFE)
    assert scene.table["Do nothing"].tolist() == ["1,000", "350", "100", "100", "100"]
    assert "Spray it: no eggs" in scene.alt
    assert stages_picture.draw(scene).to_dict()["layer"]
