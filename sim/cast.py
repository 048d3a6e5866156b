"""Who is in the garden: the names that every guild shares, each with its place in the arrays.

Only names and positions stand here; what the creatures are like is in ``sim/parameters``.
"""

from __future__ import annotations

from enum import IntEnum


class Species(IntEnum):
    """Insects that are followed one by one."""

    CABBAGE_WHITE = 0
    CABBAGE_LOOPER = 1
    DIAMONDBACK_MOTH = 2
    HARLEQUIN_BUG = 3
    FLEA_BEETLE = 4
    CUCUMBER_BEETLE = 5
    PARASITOID_WASP = 6


CATERPILLARS = (Species.CABBAGE_WHITE, Species.CABBAGE_LOOPER, Species.DIAMONDBACK_MOTH)
"""Butterflies and moths, by the young that feed."""
BUGS = (Species.HARLEQUIN_BUG,)
"""True bugs: young and adults feed side by side."""
BEETLES = (Species.FLEA_BEETLE, Species.CUCUMBER_BEETLE)
"""Their adults feed on plants; their young live in the soil."""
PLANT_EATERS = (*CATERPILLARS, *BUGS, *BEETLES)
"""Of every guild that feeds on crops, in the order of ``Species``."""
SAP_FEEDERS = BUGS
"""Those that suck from within the leaf; all others that eat leaf chew it."""


class Stage(IntEnum):
    """Stages of a life; a species skips those that it does not have."""

    EGG = 0
    INSTAR_1 = 1
    INSTAR_2 = 2
    INSTAR_3 = 3
    INSTAR_4 = 4
    INSTAR_5 = 5
    PUPA = 6
    ADULT = 7


class Predator(IntEnum):
    """Those who eat insects and whose risk is worked out bed by bed; the order of ``risk[..., predator]``."""

    GROUND_BEETLE = 0
    SPIDER = 1
    LADY_BEETLE = 2
    LACEWING = 3
    TIT_LIKE_BIRD = 4
    WREN_LIKE_BIRD = 5
    WOODPECKER_LIKE_BIRD = 6


class Fate(IntEnum):
    """How an insect leaves the record. One each. The first seven dead fates follow ``Predator``."""

    EATEN_BY_GROUND_BEETLE = 0
    EATEN_BY_SPIDER = 1
    EATEN_BY_LADY_BEETLE = 2
    EATEN_BY_LACEWING = 3
    EATEN_BY_TIT_LIKE_BIRD = 4
    EATEN_BY_WREN_LIKE_BIRD = 5
    EATEN_BY_WOODPECKER_LIKE_BIRD = 6
    EATEN_BY_HUNTING_WASP = 7
    OTHER_PARASITOIDS = 8
    DISEASE = 9
    SPRAYED = 10
    WASHED_OFF = 11
    HEAT_OR_COLD = 12
    # -- the causes above compete as daily hazards; those below are decided on their own
    PARASITISED = 13
    FAILED = 14
    STARVED = 15
    OLD_AGE = 16
    PICKED_BY_HAND = 17
    HARVESTED = 18
    CLEANED_UP = 19
    TILLED_IN = 20
    WINTER = 21
    LEFT_GARDEN = 22
    ALIVE = 23


HAZARDS = int(Fate.HEAT_OR_COLD) + 1
"""How many fates (the first ones) are daily hazards that are summed."""


class Entry(IntEnum):
    """How an insect comes onto the record."""

    ARRIVED = 0
    OVERWINTERED = 1
    BORN = 2


class Product(IntEnum):
    """Kinds of spray allowed in many organic gardens; no brands, no rates."""

    BT = 0
    SPINOSAD = 1
    PYRETHRINS = 2
    AZADIRACHTIN = 3
    SOAP = 4


class Bee(IntEnum):
    """Flower visitors."""

    HONEY_BEE = 0
    BUMBLE_BEE = 1
    SMALL_BEE = 2


class Bird(IntEnum):
    """Three ways of being an insect-eating garden bird; ``Predator`` is this plus ``GENERALISTS``."""

    TIT_LIKE = 0
    WREN_LIKE = 1
    WOODPECKER_LIKE = 2


class Visitor(IntEnum):
    """All who may try to get through a net; the order of ``gets_in[bed, visitor]``.

    The first seven follow ``Species`` (as adults), then come winged aphids, the four generalist enemies, hunting
    wasps with other parasitoids, the three kinds of bees, and birds.
    """

    CABBAGE_WHITE = 0
    CABBAGE_LOOPER = 1
    DIAMONDBACK_MOTH = 2
    HARLEQUIN_BUG = 3
    FLEA_BEETLE = 4
    CUCUMBER_BEETLE = 5
    PARASITOID_WASP = 6
    WINGED_APHID = 7
    GROUND_BEETLE = 8
    SPIDER = 9
    LADY_BEETLE = 10
    LACEWING = 11
    HUNTING_WASP = 12
    SMALL_PARASITOID = 13
    HONEY_BEE = 14
    BUMBLE_BEE = 15
    SMALL_BEE = 16
    BIRD = 17


class Crop(IntEnum):
    """What grows in a bed. The last two stand only in the margin and in a trap strip."""

    COLLARD = 0
    KALE = 1
    KOHLRABI = 2
    CABBAGE = 3
    BROCCOLI = 4
    LETTUCE = 5
    RADISH = 6
    TURNIP = 7
    CUCUMBER = 8
    MUSTARD = 9
    WILD_HOSTS = 10


SPECIES = len(Species)
STAGES = len(Stage)
PREDATORS = len(Predator)
FATES = len(Fate)
PRODUCTS = len(Product)
BEES = len(Bee)
BIRDS = len(Bird)
VISITORS = len(Visitor)
CROPS = len(Crop)
GENERALISTS = int(Predator.TIT_LIKE_BIRD)
"""Enemies that are densities of a bed: the first predators."""


def word(name: IntEnum) -> str:
    """Return the name as it stands in tables and files: ``cabbage_white``."""
    return name.name.lower()
