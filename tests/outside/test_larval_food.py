"""What larvae weigh and eat, reared in the model on all the leaf that they want."""

import numpy as np
import pytest

from sim.cast import Crop, Species, Stage
from sim.parameters import load_parameters
from tests.outside.insect_trials import Box, day_of, rear
from tests.outside.register import check

L4, L5, ADULT = Stage.INSTAR_4, Stage.INSTAR_5, Stage.ADULT
WHITE, LOOPER = Species.CABBAGE_WHITE, Species.CABBAGE_LOOPER


@check(
    "cabbage white at 26 °C weighs 16 mg before the fourth instar, 66 before the fifth, 198 as a pupa, each within one "
    "standard deviation (8, 36, 31)",
    source="nc22",
    read="read: data",
    independent=False,
)
def test_weight_of_cabbage_white():
    mass_mg = rear(WHITE, 26.0).mass_mg
    assert mass_mg[L4] == pytest.approx(16.0, abs=8.0)
    assert mass_mg[L5] == pytest.approx(66.0, abs=36.0)
    assert mass_mg[ADULT] == pytest.approx(198.0, abs=31.0)


@check(
    "pupae in a Seattle garden weigh 169 to 181 mg, a fifth either way",
    source="sea24",
    read="read: data",
    independent=False,
)
def test_weight_of_garden_pupae():
    assert 0.8 * 169.0 <= rear(WHITE, 20.0).mass_mg[ADULT] <= 1.2 * 181.0


@check(
    "in cool and in warm weather larvae grow equally heavy: pupae at 16 to 30 °C differ by less than 15 %",
    source="nc22",
    read="read: data",
    independent=True,
)
def test_weight_does_not_depend_on_warmth():
    pupae_mg = [rear(WHITE, mean_c, swing_c=5.0).mass_mg[ADULT] for mean_c in (16.0, 21.0, 26.0, 30.0)]
    assert max(pupae_mg) / min(pupae_mg) < 1.15


@check(
    "the last instar eats 85 % of all the leaf that a cabbage white larva eats",
    source="caterpillar_page",
    read="read",
    independent=False,
)
def test_the_last_instar_eats_most():
    eaten_cm2 = rear(WHITE, 21.0).eaten_cm2
    assert eaten_cm2[L5] / sum(eaten_cm2.values()) == pytest.approx(0.85, abs=0.05)


@check(
    "a cabbage white larva eats 20 to 60 cm² in its life, by its dry mass and what it makes of its food",
    source="cherry_larvae",
    read="derived",
    independent=False,
)
def test_a_larva_eats_what_its_growth_takes():
    assert 20.0 <= sum(rear(WHITE, 21.0).eaten_cm2.values()) <= 60.0


@check(
    "warm weather shortens feeding, not the meal: leaf eaten at 16 and at 28 °C within a tenth",
    source="none",
    read="common practice, no source",
    independent=True,
)
@pytest.mark.parametrize("species", [WHITE, LOOPER, Species.DIAMONDBACK_MOTH])
def test_leaf_eaten_does_not_depend_on_warmth(species):
    cool, warm = (sum(rear(species, mean_c).eaten_cm2.values()) for mean_c in (16.0, 28.0))
    assert warm == pytest.approx(cool, rel=0.10)


@check(
    "a looper in its last instar eats up to three times its mass a day",
    source="caterpillar_page",
    read="read",
    independent=True,
)
def test_a_looper_eats_up_to_three_times_its_mass():
    box = Box(LOOPER, crop=Crop.COLLARD)
    box.put(L5, 100)
    eaten_mg, mass_days_mg = 0.0, 0.0
    parameters = load_parameters()
    leaf_dry_mg_cm2 = 1000.0 / parameters.numbers("crops.leaves.sla_cm2_g")[Crop.COLLARD]
    leaf_mg_cm2 = leaf_dry_mg_cm2 / parameters.numbers("crops.product.dry_share")[Crop.COLLARD]
    while (box.alive["stage"] == L5).any():
        box.live(day_of(25.0))
        larvae = box.alive["stage"] == L5
        eaten_mg += box.alive["want_cm2"][larvae].sum() * leaf_mg_cm2
        mass_days_mg += box.alive["mass_mg"][larvae].sum()
    assert 1.5 <= eaten_mg / mass_days_mg <= 3.3


@check(
    "a diamondback larva eats less than a tenth of what a cabbage white larva does, a looper more than that",
    source="none",
    read="common practice, no source",
    independent=False,
)
def test_order_of_eaters():
    eaten = [sum(rear(s, 22.0).eaten_cm2.values()) for s in (Species.DIAMONDBACK_MOTH, WHITE, LOOPER)]
    assert eaten[0] < 0.1 * eaten[1] < eaten[1] < eaten[2]


@check(
    "beetles bred in the soil come up as heavy as those that fly in",
    source="none",
    read="common practice, no source",
    independent=True,
)
@pytest.mark.parametrize("species", [Species.FLEA_BEETLE, Species.CUCUMBER_BEETLE])
def test_beetles_from_the_soil_have_their_weight(species):
    box = Box(species)
    grown_mg = box.insects.table.life["mass_at_end_mg"][species, ADULT]
    box.put(Stage.EGG, 50)
    while not (box.alive["stage"] == ADULT).all():
        box.live(day_of(24.0))
    assert np.mean(box.alive["mass_mg"]) == pytest.approx(grown_mg, rel=0.05)
