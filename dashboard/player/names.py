"""What everything on the map is called."""

from __future__ import annotations

from dashboard.language.tongue import _, mark
from sim.cast import Bee, Bird, Crop, Fate, Species
from sim.film import Form, Where

KINDS: dict[tuple[Species, Form], str] = {
    (Species.CABBAGE_WHITE, Form.EGG): mark("cabbage white, eggs"),
    (Species.CABBAGE_WHITE, Form.YOUNG): mark("cabbage white, caterpillars"),
    (Species.CABBAGE_WHITE, Form.PUPA): mark("cabbage white, pupae"),
    (Species.CABBAGE_WHITE, Form.ADULT): mark("cabbage white, butterflies"),
    (Species.CABBAGE_LOOPER, Form.EGG): mark("cabbage looper, eggs"),
    (Species.CABBAGE_LOOPER, Form.YOUNG): mark("cabbage looper, caterpillars"),
    (Species.CABBAGE_LOOPER, Form.PUPA): mark("cabbage looper, pupae"),
    (Species.CABBAGE_LOOPER, Form.ADULT): mark("cabbage looper, moths"),
    (Species.DIAMONDBACK_MOTH, Form.EGG): mark("diamondback moth, eggs"),
    (Species.DIAMONDBACK_MOTH, Form.YOUNG): mark("diamondback moth, caterpillars"),
    (Species.DIAMONDBACK_MOTH, Form.PUPA): mark("diamondback moth, pupae"),
    (Species.DIAMONDBACK_MOTH, Form.ADULT): mark("diamondback moth, moths"),
    (Species.HARLEQUIN_BUG, Form.EGG): mark("harlequin bug, eggs"),
    (Species.HARLEQUIN_BUG, Form.YOUNG): mark("harlequin bug, young bugs"),
    (Species.HARLEQUIN_BUG, Form.ADULT): mark("harlequin bug, grown bugs"),
    (Species.FLEA_BEETLE, Form.EGG): mark("flea beetle, eggs"),
    (Species.FLEA_BEETLE, Form.YOUNG): mark("flea beetle, grubs"),
    (Species.FLEA_BEETLE, Form.PUPA): mark("flea beetle, pupae"),
    (Species.FLEA_BEETLE, Form.ADULT): mark("flea beetle, beetles"),
    (Species.CUCUMBER_BEETLE, Form.EGG): mark("cucumber beetle, eggs"),
    (Species.CUCUMBER_BEETLE, Form.YOUNG): mark("cucumber beetle, grubs"),
    (Species.CUCUMBER_BEETLE, Form.PUPA): mark("cucumber beetle, pupae"),
    (Species.CUCUMBER_BEETLE, Form.ADULT): mark("cucumber beetle, beetles"),
    (Species.PARASITOID_WASP, Form.PUPA): mark("small wasp, cocoons"),
    (Species.PARASITOID_WASP, Form.ADULT): mark("small wasp, grown"),
}
ONE: dict[Species, str] = {
    Species.CABBAGE_WHITE: mark("cabbage white {number}"),
    Species.CABBAGE_LOOPER: mark("cabbage looper {number}"),
    Species.DIAMONDBACK_MOTH: mark("diamondback moth {number}"),
    Species.HARLEQUIN_BUG: mark("harlequin bug {number}"),
    Species.FLEA_BEETLE: mark("flea beetle {number}"),
    Species.CUCUMBER_BEETLE: mark("cucumber beetle {number}"),
    Species.PARASITOID_WASP: mark("small wasp {number}"),
}
EGGS: dict[Species, str] = {
    Species.CABBAGE_WHITE: mark("First cabbage white eggs on the leaves."),
    Species.CABBAGE_LOOPER: mark("First cabbage looper eggs on the leaves."),
    Species.DIAMONDBACK_MOTH: mark("First diamondback moth eggs on the leaves."),
    Species.HARLEQUIN_BUG: mark("First harlequin bug eggs on the leaves."),
    Species.FLEA_BEETLE: mark("First flea beetle eggs in the soil at the plants."),
    Species.CUCUMBER_BEETLE: mark("First cucumber beetle eggs in the soil at the plants."),
}
BIRDS = {
    Bird.TIT_LIKE: mark("tit-like bird"),
    Bird.WREN_LIKE: mark("wren-like bird"),
    Bird.WOODPECKER_LIKE: mark("woodpecker-like bird"),
}
NESTS = {
    Bird.TIT_LIKE: mark("nest of a tit-like bird"),
    Bird.WREN_LIKE: mark("nest of a wren-like bird"),
    Bird.WOODPECKER_LIKE: mark("nest of a woodpecker-like bird"),
}
BEES = {
    Bee.HONEY_BEE: mark("honey bees at flowers"),
    Bee.BUMBLE_BEE: mark("bumble bees at flowers"),
    Bee.SMALL_BEE: mark("small bees at flowers"),
}
CROPS = {
    Crop.COLLARD: mark("collard"),
    Crop.KALE: mark("kale"),
    Crop.KOHLRABI: mark("kohlrabi"),
    Crop.CABBAGE: mark("cabbage"),
    Crop.BROCCOLI: mark("broccoli"),
    Crop.LETTUCE: mark("lettuce"),
    Crop.RADISH: mark("radish"),
    Crop.TURNIP: mark("turnip"),
    Crop.CUCUMBER: mark("cucumber"),
    Crop.MUSTARD: mark("mustard"),
    Crop.WILD_HOSTS: mark("wild plants"),
}
FORMS = {
    Form.EGG: mark("an egg"),
    Form.YOUNG: mark("young"),
    Form.PUPA: mark("a pupa"),
    Form.ADULT: mark("grown"),
}
PLACES = {
    Where.AIR: mark("in the air"),
    Where.LEAF: mark("on a leaf"),
    Where.UNDER_LEAF: mark("on the lower side of a leaf"),
    Where.HEAD: mark("in the head"),
    Where.FLOWER: mark("in a flower"),
    Where.STALKS: mark("on a stalk beside the plant"),
    Where.SOIL: mark("in the soil"),
}
ENDS = {
    Fate.EATEN_BY_GROUND_BEETLE: mark("A ground beetle ate it."),
    Fate.EATEN_BY_SPIDER: mark("A spider ate it."),
    Fate.EATEN_BY_LADY_BEETLE: mark("A lady beetle ate it."),
    Fate.EATEN_BY_LACEWING: mark("A lacewing ate it."),
    Fate.EATEN_BY_TIT_LIKE_BIRD: mark("A tit-like bird took it."),
    Fate.EATEN_BY_WREN_LIKE_BIRD: mark("A wren-like bird took it."),
    Fate.EATEN_BY_WOODPECKER_LIKE_BIRD: mark("A woodpecker-like bird took it."),
    Fate.EATEN_BY_HUNTING_WASP: mark("A hunting wasp carried it off."),
    Fate.OTHER_PARASITOIDS: mark("A tiny parasite killed it."),
    Fate.DISEASE: mark("It died of disease."),
    Fate.SPRAYED: mark("The spray killed it."),
    Fate.WASHED_OFF: mark("Rain washed it off."),
    Fate.HEAT_OR_COLD: mark("Heat or cold killed it."),
    Fate.PARASITISED: mark("Small wasps grew up inside it and killed it."),
    Fate.FAILED: mark("It failed to hatch or to molt."),
    Fate.STARVED: mark("It starved."),
    Fate.OLD_AGE: mark("It died of old age."),
    Fate.PICKED_BY_HAND: mark("The gardener picked it off by hand."),
    Fate.HARVESTED: mark("It went along with the harvest."),
    Fate.CLEANED_UP: mark("It went with the plants that were cleared away."),
    Fate.TILLED_IN: mark("It died when the soil was turned."),
    Fate.WINTER: mark("Winter killed it."),
    Fate.LEFT_GARDEN: mark("It left the garden."),
    Fate.ALIVE: mark("It was still alive when the season ended."),
}


def bed_word(name: str) -> str:
    """Return a bed's name as it is read; the margin is ours to name, the others are the scenario's."""
    return _("the wild margin") if name == "margin" else _(name.replace("_", " ").replace("-", " "))
