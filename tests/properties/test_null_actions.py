"""What changes nothing changes nothing, to the last bit: no tuning can make these true.

Work and money are left out, for doing nothing at great pains still takes time.
"""

import pytest

from sim.cast import Species, Stage
from sim.chronicle import PLACE
from sim.practices.workday import Task
from tests.strategies import MATERIALS, NO_PESTS, PRODUCTS, bed, garden, live

EIGHT_ZEROS = [0.0] * 8
OF_THE_DEED = ("labour_minutes", "cost_usd", "covered_beds", "beds_sprayed")
SEEDS = (1, 2, 3)
NESTS = {"nests": [{"kind": "wren_like", "distance_m": 8.0}, {"kind": "tit_like", "distance_m": 15.0}]}
SHUT_IN = {
    f"{guild}.{species}.shut_in_{what}": 1.0
    for guild, species in (
        ("moths", "cabbage_white"),
        ("moths", "cabbage_looper"),
        ("moths", "diamondback_moth"),
        ("bugs_and_beetles", "harlequin_bug"),
        ("bugs_and_beetles", "flea_beetle"),
        ("bugs_and_beetles", "cucumber_beetle"),
        ("parasitoid", "parasitoid_wasp"),
    )
    for what in ("egg_share", "ageing")
}


def harmless(product):
    """Return the numbers of a product that kills nothing, waits for nothing and goes nowhere but where it is put."""
    key = f"sprays.{product}"
    of_product = {
        f"{key}.kill.{species.name.lower()}": EIGHT_ZEROS for species in Species if species != Species.PARASITOID_WASP
    }
    return of_product | {
        f"{key}.enemy_kill": [0.0] * 4,
        f"{key}.wasp_kill": 0.0,
        f"{key}.aphid_kill": 0.0,
        f"{key}.bee_kill": 0.0,
        f"{key}.wait_days": [0.0] * 11,
        "sprays.drift_share": [0.0] * 3,
    }


def all_passing(material):
    """Return the numbers of a net that a bird flies through and that light, warmth and rain do not notice."""
    return SHUT_IN | {
        f"nets.{material}.hole_mm": 1000.0,
        f"nets.{material}.light_share": 1.0,
        f"nets.{material}.warming_c": 0.0,
        f"nets.{material}.night_warming_c": 0.0,
        f"nets.{material}.rain_share": 1.0,
    }


def what_differs(one, other):
    """Return the columns of the day, and the books, in which two lived gardens differ in any bit."""
    columns = [
        name
        for name, place in PLACE.items()
        if name not in OF_THE_DEED
        and one.chronicle.rows[:, place].tobytes() != other.chronicle.rows[:, place].tobytes()
    ]
    books = {
        "exits": (one.insects.exits, other.insects.exits),
        "entries": (one.insects.entries, other.insects.entries),
        "plants": (one.plants.plants, other.plants.plants),
        "leaves": (one.plants.leaves, other.plants.leaves),
        "fruits": (one.plants.fruits, other.plants.fruits),
        "enemies": (one.generalists.density_per_m2, other.generalists.density_per_m2),
        "nestlings": (one.nests.nests, other.nests.nests),
        "bees harmed": (one.pollinators.harmed, other.pollinators.harmed),
        "turned away": (one.insects.turned_away, other.insects.turned_away),
    }
    return columns + [name for name, (a, b) in books.items() if not is_same(a, b)]


def is_same(one, other):
    """Return whether two arrays are the same in every bit; of records, in every field."""
    fields = one.dtype.names
    if fields is None:
        return one.tobytes() == other.tobytes()
    return all(one[name].tobytes() == other[name].tobytes() for name in fields)


@pytest.mark.parametrize("product", PRODUCTS)
def test_a_spray_that_harms_nobody_is_no_spray(product):
    scenario = garden(
        bed(),
        bed("cucumber", planted="04-21"),
        bed("cabbage", planted="04-25"),
        plans={"spray": [{"do": "spray", "product": product, "hour": "noon", "every_days": 3}]},
        birds=NESTS,
        numbers=harmless(product),
    )
    for seed in SEEDS:
        sprayed = live(scenario, "spray", seed)
        assert sprayed.beds_sprayed > 20
        assert sprayed.gardener.minutes[:, Task.SPRAY].sum() > 0
        assert what_differs(live(scenario, "nothing", seed), sprayed) == []


@pytest.mark.parametrize("material", MATERIALS)
def test_a_net_that_lets_everything_through_is_no_net(material):
    scenario = garden(
        bed(),
        bed("cucumber", planted="04-21"),
        bed("cabbage", planted="04-25"),
        plans={
            "net": [
                {"do": "cover", "material": material, "edges": "slack", "days_after_planting": 5},
                {"do": "weed", "every_days": 10},
            ],
            "bare": [{"do": "weed", "every_days": 10}],
        },
        birds=NESTS,
        numbers=all_passing(material),
    )
    for seed in SEEDS:
        netted = live(scenario, "net", seed)
        assert netted.chronicle.column("covered_beds").max() == 3
        assert what_differs(live(scenario, "bare", seed), netted) == []


def test_looking_and_finding_nothing_to_do_is_doing_nothing():
    look = [
        {"do": "scout", "plants": 8, "every_days": 2},
        {"do": "spray_at_threshold", "product": "spinosad", "flea_beetles_per_plant": 1e5},
    ]
    scenario = garden(plans={"look": look}, birds=NESTS)
    looked = live(scenario, "look")
    assert looked.gardener.minutes[:, Task.SCOUT].sum() > 0
    assert what_differs(live(scenario), looked) == []


def test_a_gardener_without_minutes_does_nothing():
    busy = [
        {"do": "cover", "days_after_planting": 0},
        {"do": "spray", "product": "pyrethrins", "every_days": 3},
        {"do": "hand_pick", "every_days": 2},
    ]
    scenario = garden(plans={"busy": busy}, gardener={"minutes_per_day": 0.0})
    assert what_differs(live(scenario), live(scenario, "busy")) == []


# -- tight nets ----------------------------------------------------------------------------------------------------

TIGHT = {
    "nets.edge_leak_share": [0.0, 0.0, 0.0],
    "nets.badly_closed_share": 0.0,
    "nets.fine_mesh.hole_mm": 0.3,
}
"""A net that is drawn tight and buried lets nobody under its edge; 0.3 mm stops even the smallest walker."""
FROM_PLANTING = [{"do": "cover", "material": "fine_mesh", "edges": "buried", "days_after_planting": 0}]


def insects_in(lived, place):
    """Return the living of one bed."""
    alive = lived.insects.records[: lived.insects.count]
    return alive[alive["bed"] == place]


def test_a_tight_net_over_clean_ground_keeps_everybody_out():
    scenario = garden(
        bed("cabbage", harvest="none", planted="04-20"),
        bed("kale", harvest="none", planted="04-20"),
        plans={"net": FROM_PLANTING},
        numbers=TIGHT,
    )
    for seed in SEEDS:
        netted = live(scenario, "net", seed)
        assert len(insects_in(netted, 0)) + len(insects_in(netted, 1)) == 0
        assert netted.insects.exits[0].sum() == 0
        assert netted.plants.flows["leaf_eaten_cm2"][:2].sum() == 0
        assert netted.insects.turned_away[:, :2].sum() > 0
        assert live(scenario, "nothing", seed).plants.flows["leaf_eaten_cm2"][:2].sum() > 0


def test_a_net_put_on_at_planting_seals_in_what_the_soil_holds_and_no_more():
    scenario = garden(
        bed("cabbage", harvest="none", planted="04-20", hosted_last_year=True),
        plans={"net": FROM_PLANTING},
        pests={"flea_beetle": 5.0},
        numbers=TIGHT,
    )
    met = 0
    for seed in SEEDS:
        netted = live(scenario, "net", seed)
        in_the_soil = netted.insects.entries[1, Species.FLEA_BEETLE]
        ended = netted.insects.exits[0] + netted.insects.still_alive()[0]
        came_from_soil = ended[1].sum(axis=(1, 2))
        assert ended[0].sum() == 0  # nobody from outside ends in the bed
        others = [species for species in Species if species != Species.FLEA_BEETLE]
        assert ended[2][others].sum() == 0  # no eggs of anybody who did not come out of the soil
        assert came_from_soil[Species.FLEA_BEETLE] <= in_the_soil
        met += in_the_soil
    assert met > 0


def test_a_late_net_seals_in_what_has_come_by_then():
    scenario = garden(
        bed("kale", harvest="none"),
        plans={
            "late": [{"do": "cover", "material": "fine_mesh", "edges": "buried", "days_after_planting": 30}],
            "net": FROM_PLANTING,
        },
        numbers=TIGHT,
    )
    lived = live(scenario, "late", 1)
    day_before, last = 29, len(lived.days) - 1
    assert lived.chronicle.column("cabbage_white_young")[day_before] > 0
    assert lived.chronicle.column("cabbage_white_young")[day_before + 2] > 0
    assert live(scenario, "net", 1).chronicle.column("cabbage_white_young")[last] == 0


def cucumbers(*, self_fruitful, plans):
    return garden(
        bed("cucumber", planted="04-21", self_fruitful=self_fruitful, harvest="none"),  # picking would lift the net
        season={"first_day": "04-20", "last_day": "08-20", "calendar_year": 2025},
        pests=NO_PESTS,
        plans=plans,
        numbers=TIGHT,
    )


def test_under_a_tight_net_a_cultivar_that_needs_bees_gives_no_fruit():
    for seed in SEEDS:
        netted = live(cucumbers(self_fruitful=False, plans={"net": FROM_PLANTING}), "net", seed)
        flows = netted.plants.flows[0]
        assert flows["flowers_opened"] > 0
        assert flows["flowers_visited"] == flows["fruits_set"] == 0


def test_under_a_tight_net_a_self_fruitful_cultivar_sets_without_a_visit():
    for seed in SEEDS:
        netted = live(cucumbers(self_fruitful=True, plans={"net": FROM_PLANTING}), "net", seed)
        flows = netted.plants.flows[0]
        assert flows["flowers_visited"] == 0
        assert flows["fruits_set"] > 0


# -- nothing comes of nothing --------------------------------------------------------------------------------------


def test_without_moths_there_are_no_caterpillars():
    scenario = garden(
        bed(old_stalks=True, hosted_last_year=True),
        bed("cabbage"),
        pests={"cabbage_white": 0.0, "cabbage_looper": 0.0, "diamondback_moth": 0.0},
    )
    lived = live(scenario)
    for moth in (Species.CABBAGE_WHITE, Species.CABBAGE_LOOPER, Species.DIAMONDBACK_MOTH):
        assert lived.insects.entries[:, moth].sum() == 0
        assert lived.insects.reached[..., moth, :].sum() == 0
    assert lived.chronicle.column("caterpillars_reachable_g").max() == 0
    assert lived.insects.reached[..., Species.FLEA_BEETLE, Stage.EGG].sum() > 0  # others go on


def test_without_any_pests_nothing_is_eaten():
    lived = live(garden(bed(), bed("cucumber"), pests=NO_PESTS, birds=NESTS))
    assert lived.insects.eaten_cm2.sum() == 0
    assert lived.chronicle.column("aphids").max() == 0
    assert lived.plants.flows["leaf_eaten_cm2"].sum() == 0


def test_without_host_plants_nobody_breeds():
    lived = live(garden(bed("lettuce"), pests={"cabbage_looper": 0.0}, margin={"wild_host_plants": 0}))
    assert lived.insects.reached[..., Stage.EGG].sum() == 0
