"""How those born in the beds ended, in the few groups that a class can hold in mind, and per thousand eggs."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from dashboard.language.tongue import _, mark
from dashboard.seasons.wishes import Lived
from sim.cast import FATES, Fate, Species, Stage
from sim.compiled import Floats
from sim.measures import spoken

A_THOUSAND = 1000
GREW_UP = mark("grew up")
GROUPS: dict[str, tuple[Fate, ...]] = {
    mark("failed to hatch or moult"): (Fate.FAILED,),
    mark("eaten by crawling hunters"): (
        Fate.EATEN_BY_GROUND_BEETLE,
        Fate.EATEN_BY_SPIDER,
        Fate.EATEN_BY_LADY_BEETLE,
        Fate.EATEN_BY_LACEWING,
    ),
    mark("taken by wasps"): (Fate.EATEN_BY_HUNTING_WASP, Fate.OTHER_PARASITOIDS, Fate.PARASITISED),
    mark("eaten by birds"): (
        Fate.EATEN_BY_TIT_LIKE_BIRD,
        Fate.EATEN_BY_WREN_LIKE_BIRD,
        Fate.EATEN_BY_WOODPECKER_LIKE_BIRD,
    ),
    mark("killed by a spray"): (Fate.SPRAYED,),
    mark("picked off by hand"): (Fate.PICKED_BY_HAND,),
    mark("carried off with the crop"): (Fate.HARVESTED, Fate.CLEANED_UP, Fate.TILLED_IN),
    mark("rain, heat or cold"): (Fate.WASHED_OFF, Fate.HEAT_OR_COLD),
    mark("disease"): (Fate.DISEASE,),
    mark("starved"): (Fate.STARVED,),
    mark("still young at the season's end"): (Fate.ALIVE, Fate.WINTER),
    mark("left or died of age"): (Fate.LEFT_GARDEN, Fate.OLD_AGE),
}
"""Marked words → fates, of those that did not grow up. Together they are all fates."""
STEPS_OF_A_LIFE = {
    mark("egg"): Stage.EGG,
    mark("hatched"): Stage.INSTAR_1,
    mark("half grown"): Stage.INSTAR_3,
    mark("pupa"): Stage.PUPA,
    mark("adult"): Stage.ADULT,
}
"""Marked words → the stage that is reached."""
EVERY_KIND = mark("all plant-eaters")
KINDS_MIXED = mark(
    "Kinds are mixed here: a plan changes which kinds lay, and some kinds lose far more eggs than others. To compare "
    "like with like, look at one kind."
)
"""A plan under which hardy kinds are left seems to spare eggs of every kind, though each kind may fare worse."""


def with_doubt_of_mixture(caption: str, kind: str) -> str:
    """Return a picture's caption, with a warning where it shows all kinds together."""
    return f"{caption} {_(KINDS_MIXED)}" if kind == EVERY_KIND else caption


def kinds() -> dict[str, int | None]:
    """Return what can be asked for: all plant-eaters (None), or one species by its number."""
    eaters = [species for species in Species if species != Species.PARASITOID_WASP]
    return {EVERY_KIND: None, **{spoken(species): int(species) for species in eaters}}


def mean_ends(seasons: Iterable[Lived], species: int | None) -> Floats:
    """Return the mean count over seasons, shape (stages, fates), of one species or of all plant-eaters."""
    eaters = [int(one) for one in Species if one != Species.PARASITOID_WASP] if species is None else [species]
    counts = [lived.ends[eaters].sum(axis=0) for lived in seasons]
    return np.asarray(np.mean(counts, axis=0), dtype=np.float64)


def by_group(ends: Floats) -> dict[str, float]:
    """Return words → count; the adults are those that grew up, however they ended."""
    young = ends[: Stage.ADULT].sum(axis=0)
    counted = {words: float(young[list(fates)].sum()) for words, fates in GROUPS.items()}
    return {**counted, GREW_UP: float(ends[Stage.ADULT].sum())}


def per_thousand(groups: dict[str, float]) -> dict[str, float]:
    """Return words → how many of a thousand eggs; nothing where no egg was laid."""
    born = sum(groups.values())
    return {words: A_THOUSAND * count / born for words, count in groups.items()} if born else {}


def reached(ends: Floats) -> dict[str, float]:
    """Return words → how many reached that step: those that ended there or later."""
    return {words: float(ends[stage:].sum()) for words, stage in STEPS_OF_A_LIFE.items()}


def group_mask(group: str) -> NDArray[np.bool_]:
    """Return which stages and fates a group's words stand for, shape (stages, fates)."""
    mask = np.zeros((len(Stage), FATES), dtype=np.bool_)
    if group == GREW_UP:
        mask[Stage.ADULT] = True
    else:
        mask[: Stage.ADULT, [int(fate) for fate in GROUPS[group]]] = True
    return mask


def creatures(ends: Floats) -> pd.DataFrame:
    """Return every stage and fate in words with its mean count a season: the creatures behind the groups."""
    rows = [
        (stage_words(Stage(stage)), fate_words(Fate(fate)), float(ends[stage, fate]))
        for stage, fate in np.argwhere(ends > 0)
    ]
    frame = pd.DataFrame(rows, columns=["stage", "fate", "count"])
    return frame.sort_values("count", ascending=False, kind="stable").reset_index(drop=True)


def stage_words(stage: Stage) -> str:
    """Return a stage as it is said."""
    if Stage.EGG < stage < Stage.PUPA:
        return _("young, stage {number}").format(number=int(stage))
    return _(stage.name.lower())


def fate_words(fate: Fate) -> str:
    """Return a fate as it is said."""
    return _(spoken(fate))
