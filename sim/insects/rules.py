"""The rules of one insect's life: small functions over its record and its surroundings, called by ``day.py``."""

from __future__ import annotations

import math

import numpy as np

from sim.cast import HAZARDS, Crop, Fate, Species, Stage
from sim.compiled import Floats, Record, Records, rule
from sim.crops.plant import FLOWER, HEAD, LEAVES
from sim.insects.record import HIDDEN, IN_SOIL, LOWER, NOWHERE, ON_STALKS, OPEN, Ask
from sim.randomness import chance, quick_normal

_HAZARDS = HAZARDS
_ALIVE = int(Fate.ALIVE)
_PARASITISED, _FAILED, _STARVED = int(Fate.PARASITISED), int(Fate.FAILED), int(Fate.STARVED)
_OLD_AGE, _LEFT = int(Fate.OLD_AGE), int(Fate.LEFT_GARDEN)
_EGG, _LAST_INSTAR, _PUPA, _ADULT = int(Stage.EGG), int(Stage.INSTAR_5), int(Stage.PUPA), int(Stage.ADULT)
_CUCUMBER, _CUCUMBER_BEETLE = int(Crop.CUCUMBER), int(Species.CUCUMBER_BEETLE)
_WASP = int(Species.PARASITOID_WASP)
_DEATH, _CAUSE, _MOULT, _SEX, _STAY = Ask.DEATH, Ask.CAUSE, Ask.MOULT, Ask.SEX, Ask.STAY
_PACE, _LIFE, _HEAD, _PUPATION, _LEAF = Ask.PACE, Ask.LIFE, Ask.HEAD, Ask.PUPATION, Ask.LEAF
_CHANGE_LEAF, _CRAWL, _NEXT_PLANT, _REST = Ask.CHANGE_LEAF, Ask.CRAWL, Ask.NEXT_PLANT, Ask.REST
_SIZE, _PICK_UP_WILT = Ask.SIZE, Ask.PICK_UP_WILT
_ONCE = 1000
"""Questions asked once in a stage use the stage in place of the day, so that delay does not change the luck."""


@rule
def own_pace(key: np.uint64, spread: float) -> float:
    """Return an individual's speed of development, around 1, within a half and twice of it."""
    return min(2.0, max(1.0 / 2.0, 1.0 + spread * quick_normal(key, 0, _PACE)))


@rule
def own_life_dd(key: np.uint64, mean_dd: float, habits: Record) -> float:
    """Return the length of adult life that one was born to [°C·d]."""
    return float(mean_dd * max(habits.shortest_life_share, 1.0 + habits.life_spread * quick_normal(key, 0, _LIFE)))


@rule
def survives(insect: Record, death: float, day: int) -> bool:
    """Return whether the day's one draw for death leaves it alive."""
    return bool(chance(insect.key, day, _DEATH) >= death)


@rule
def die_of_one_hazard(insect: Record, hazard: Floats, day: int) -> None:
    """Decide by a second draw of what it dies, in proportion to the day's hazards."""
    total = 0.0
    for cause in range(_HAZARDS):
        total += hazard[cause]
    mark = chance(insect.key, day, _CAUSE) * total
    passed = 0.0
    chosen = 0
    for cause in range(_HAZARDS):
        if hazard[cause] > 0.0:
            chosen = cause
            passed += hazard[cause]
            if mark < passed:
                break
    insect.fate = chosen


@rule
def carry_wasps(insect: Record, wasp_dd: float, in_host_dd: float) -> None:
    """Let the grubs inside grow; they kill a full-grown host on leaving it."""
    insect.wasp_dd += wasp_dd
    if insect.stage == _LAST_INSTAR and insect.wasp_dd >= in_host_dd:
        insect.fate = _PARASITISED


@rule
def has_head_to_hide_in(plant: Record) -> bool:
    """Return whether a plant has formed a heart or head that larvae get into."""
    return bool(plant.has_heart == 1 and plant.head_area_cm2 > 0.0)


@rule
def picks_up_wilt(beetle: Record, habits: Record, day: int) -> int:
    """Return 1 if a beetle that feeds on a wilting plant carries the wilt from today on, 0 if not."""
    return 1 if chance(beetle.key, day, _PICK_UP_WILT) < habits.pick_up_per_beetle_day else 0


@rule
def settle_in_stage(insect: Record, kind: Record, flier: Record, has_head: bool) -> None:
    """Find the place on the plant that a new stage lives in."""
    stage = int(insect.stage)  # a plain integer: small ones do not add up without compilation
    if kind.in_soil > 0.0:
        insect.place, insect.exposure = IN_SOIL, HIDDEN
    elif stage == _PUPA:
        if chance(insect.key, _ONCE, _PUPATION) < flier.leaves_plant_share:
            insect.place, insect.exposure = ON_STALKS, HIDDEN
        elif insect.place != HEAD:
            insect.exposure = OPEN
    elif stage == _ADULT:
        insect.place, insect.exposure = NOWHERE, OPEN
    elif has_head and chance(insect.key, _ONCE + stage, _HEAD) < kind.head_share:
        insect.place, insect.exposure = HEAD, HIDDEN
    elif insect.place != HEAD:
        insect.exposure = OPEN
        if insect.place < 0:
            insect.place = NOWHERE


@rule
def gets_through(insect: Record, fits_share: float, gap_pass: float) -> float:
    """Return the chance that one try of an adult passes a net: certain for one slender enough for its mesh.

    Size is asked once in a life: one that is too broad for the holes has only edges and opened hours.
    """
    if fits_share >= 1.0 or gap_pass >= 1.0:
        return 1.0
    return 1.0 if chance(insect.key, _ONCE, _SIZE) < fits_share else gap_pass


@rule
def shut_in_or_free(insect: Record, feeds: float, fits_share: Floats, gap_pass: Floats) -> None:
    """Shut in an adult that sits and feeds in a bed under a net too fine for it; free one whom nothing holds."""
    if insect.stage != _ADULT:
        return
    s = insect.species
    held_by = insect.inside if insect.inside >= 0 else insect.bed
    is_held = gets_through(insect, fits_share[held_by, s], gap_pass[held_by, s]) < 1.0
    if not is_held:
        insect.inside = -1
    elif insect.plant >= 0 and (feeds > 0.0 or insect.is_resting != 0):
        insect.inside = held_by


@rule
def become_adult(insect: Record, flier: Record, habits: Record, fits_share: float, gap_pass: float) -> None:
    """Settle sex, length of life, and whether it looks for plants here or leaves; a net holds those it can."""
    key = insect.key
    insect.stage, insect.is_resting, insect.warmth_dd, insect.hungry_days = _ADULT, 0, 0.0, 0.0
    insect.place, insect.exposure, insect.eggs_ready = NOWHERE, OPEN, 0.0
    insect.is_female = 1 if chance(key, _ONCE, _SEX) < flier.female_share else 0
    gets_out = gets_through(insect, fits_share, gap_pass)
    insect.inside = insect.bed if gets_out < 1.0 else -1
    if chance(key, _ONCE, _STAY) >= flier.stay_share and chance(key, _ONCE + 1, _STAY) < gets_out:
        insect.fate = _LEFT
    else:
        insect.life_dd = own_life_dd(key, flier.life_dd, habits)


@rule
def moult(insect: Record, life: Records, flier: Record, has_head: bool) -> None:
    """Pass into the next stage when warm enough, or fail to hatch or moult. Adults are made by ``become_adult``."""
    species = insect.species
    kind = life[species, insect.stage]
    if insect.warmth_dd < kind.heat_dd or (insect.wasp_brood > 0 and insect.stage == _LAST_INSTAR):
        return
    if chance(insect.key, _ONCE + int(insect.stage), _MOULT) < kind.failed_share:
        insect.fate = _FAILED
        return
    following = int(kind.next_stage)
    if kind.feeds == 0.0 and _EGG < insect.stage < _PUPA:
        insect.mass_mg = kind.mass_at_end_mg  # grew on roots, or shrank before pupating, unseen by the leaves
    insect.warmth_dd -= kind.heat_dd
    insect.hungry_days = 0.0
    if following >= _PUPA:
        insect.mass_mg *= life[species, following].mass_at_end_mg / kind.mass_at_end_mg
    insect.stage = following
    settle_in_stage(insect, life[species, following], flier, has_head)


@rule
def grow(insect: Record, warmth_dd: float) -> None:
    """Gather the day's warmth at its own pace."""
    insect.warmth_dd += warmth_dd * insect.pace


@rule
def rest_for_winter(insect: Record, flier: Record) -> None:
    """Go to winter rest near by, or leave for a better place."""
    if chance(insect.key, _ONCE, _REST) < flier.winters_here_share:
        insect.is_resting, insect.place, insect.exposure = 1, ON_STALKS, HIDDEN
        insect.life_dd = math.inf
    else:
        insect.fate = _LEFT


@rule
def mature_eggs(insect: Record, flier: Record, warmth_dd: float) -> None:
    """Ripen the day's eggs along her age: E(a) rises to its peak and falls slowly, or runs even."""
    age = insect.warmth_dd
    if age < flier.preoviposition_dd:
        return
    eggs = flier.potential_eggs * (flier.shut_in_egg_share if insect.inside >= 0 else 1.0)
    peak = flier.egg_peak_dd
    if peak > 0.0:
        insect.eggs_ready += eggs * warmth_dd / peak * (age / peak) * math.exp(-age / peak)
    else:
        insect.eggs_ready += eggs * warmth_dd / flier.life_dd


@rule
def age_as_adult(insect: Record, flier: Record, warmth_dd: float) -> None:
    """Grow older by warmth, ripen eggs, and die of age in the end."""
    insect.warmth_dd += warmth_dd * (flier.shut_in_ageing if insect.inside >= 0 else 1.0)
    if insect.warmth_dd > insect.life_dd:
        insect.fate = _OLD_AGE
    elif insect.is_female:
        mature_eggs(insect, flier, warmth_dd)


@rule
def looks_for_plants(insect: Record, kind: Record, flier: Record) -> bool:
    """Return whether an adult tries plants today: to feed, because she has hosts to find or eggs to lay."""
    if kind.feeds > 0.0:
        return True
    has_eggs = insect.species == _WASP or insect.eggs_ready >= flier.eggs_per_visit > 0.0
    return bool(insect.is_female != 0 and has_eggs)


@rule
def choose_leaf(leaves: Records, plant: int, leaf_area_cm2: float, u: float) -> int:
    """Return a leaf slot with something left, each with a chance by its area; NOWHERE on a bare plant.

    ``leaf_area_cm2`` is what is left on all of them together, as measured this morning.
    """
    mark = u * leaf_area_cm2
    chosen = NOWHERE
    for slot in range(LEAVES):
        left = leaves[plant, slot].area_cm2 - leaves[plant, slot].eaten_cm2
        if left > 0.0:
            chosen = slot
            mark -= left
            if mark < 0.0:
                break
    return chosen


@rule
def sit_somewhere(insect: Record, plant: Record, leaves: Records, habits: Record, day: int) -> None:
    """Make sure that it sits on something it can eat: stay on its leaf as a rule, sometimes change."""
    place = insect.place
    if place == HEAD and plant.head_area_cm2 > 0.0:
        return
    is_adult = insect.stage == _ADULT
    visits_flowers = is_adult and insect.species == _CUCUMBER_BEETLE and plant.open_flowers > 0
    if visits_flowers and chance(insect.key, day, _CHANGE_LEAF) < habits.flower_share:
        insect.place = FLOWER
        return
    moves = is_adult or chance(insect.key, day, _CHANGE_LEAF) < habits.change_leaf_per_day
    p = insect.plant
    if moves or place < 0 or place >= LEAVES or leaves[p, place].area_cm2 <= leaves[p, place].eaten_cm2:
        insect.place = choose_leaf(leaves, p, plant.leaf_area_cm2, chance(insect.key, day, _LEAF))


@rule
def appetite_cm2(insect: Record, kind: Record, flier: Record, habits: Record, warmth_dd: float, mean_c: float) -> float:
    """Return the leaf it would eat today [cm²]."""
    if insect.stage == _ADULT:
        warm = (mean_c - habits.adult_stop_c) / (habits.adult_reference_c - habits.adult_stop_c)
        return float(flier.adult_leaf_cm2_per_day * min(habits.adult_most_share, max(0.0, warm)))
    if kind.leaf_cm2 <= 0.0:
        return 0.0
    want = kind.leaf_cm2 * warmth_dd * insect.pace / kind.heat_dd
    return float(want * habits.host_appetite if insect.wasp_brood > 0 else want)


@rule
def take_meal(insect: Record, kind: Record, habits: Record, warmth_dd: float, fed: float) -> float:
    """Grow by what the meal allows, count hunger, starve; return the share of the day's development it made."""
    if insect.stage != _ADULT:
        step = min(1.0, warmth_dd * insect.pace / kind.heat_dd)
        if insect.warmth_dd <= kind.heat_dd:  # one that waits for its wasps to leave feeds on and grows no more
            insect.mass_mg *= math.exp(kind.growth_ln * step * fed)
        insect.warmth_dd -= warmth_dd * insect.pace * (1.0 - fed) * (1.0 - habits.hungry_growth_floor)
    if fed >= habits.hungry_below_share:
        insect.hungry_days = max(0.0, insect.hungry_days - 1.0)
    else:
        insect.hungry_days += 1.0 - fed
        if insect.hungry_days > kind.starve_days:
            insect.fate = _STARVED
    return fed


@rule
def crawl_on(insect: Record, habits: Record, first: int, last: int, plants: Records, day: int) -> None:
    """Leave an eaten plant for another of the same bed, if it is big enough to get there."""
    if insect.stage < habits.crawling_instar or last - first < 2:
        return
    if chance(insect.key, day, _CRAWL) >= habits.crawl_to_next_plant:
        return
    target = first + int(chance(insect.key, day, _NEXT_PLANT) * (last - first))
    if plants[target].is_growing:
        insect.plant = target
        insect.place, insect.exposure = NOWHERE, OPEN


@rule
def lower_or_upper_side(u: float, under_leaf_share: float) -> int:
    """Return the exposure of an egg by the side of the leaf it is laid on."""
    return LOWER if u < under_leaf_share else OPEN
