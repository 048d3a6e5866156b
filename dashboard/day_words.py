"""What each column of the days holds, in words, for those who take the tables further."""

from __future__ import annotations

from sim.cast import GENERALISTS, PLANT_EATERS, Bee, Predator, word
from sim.chronicle import COLUMNS, PREY_GROUPS

_PLAIN = {
    "date": "the day",
    "day": "number of the day, 0 for the first",
    "tmin_c": "lowest temperature",
    "tmax_c": "highest temperature",
    "rain_mm": "rain",
    "covered_beds": "beds under a net in the evening",
    "leaf_area_m2": "leaf area of all plants",
    "leaf_eaten_m2": "leaf that insects ate that day",
    "harvest_kg": "picked that day",
    "marketable_kg": "of it fit to sell",
    "caterpillars_in_margin": "caterpillars beside the beds",
    "parasitoid_wasps": "parasitoid wasps, grown",
    "aphids": "aphids in the beds",
    "margin_reachable_g": "of all that birds can reach, what is on wild plants beside the beds",
    "caterpillars_grown_reachable_g": "large caterpillars that birds can reach",
    "nestlings": "young birds in the nests",
    "fledged": "young birds that left the nest that day",
    "fed_from_garden_kj": "fed to nestlings from beds and margin",
    "fed_from_hedgerow_kj": "fed to nestlings from the hedgerow",
    "fed_from_territory_kj": "fed to nestlings from farther away",
    "caterpillars_to_nests": "caterpillars brought to nests that day",
    "feeding_visits": "feeds brought to nests that day",
    "open_flowers": "female flowers open",
    "fruit_set": "flowers that set fruit that day",
    "labour_minutes": "minutes of work that day",
    "cost_usd": "money spent that day",
    "beds_sprayed": "beds sprayed that day",
    "turned_away": "insects that a net turned away that day",
}
_STAGES = {"eggs": "eggs", "young": "young, from hatching to the last moult", "pupae": "pupae", "adults": "grown"}


def _words() -> dict[str, str]:
    said = dict(_PLAIN)
    for species in PLANT_EATERS:
        said |= {f"{word(species)}_{end}": f"{_spaced(word(species))}: {what}" for end, what in _STAGES.items()}
    said |= {f"{group}_reachable_g": f"{group} that birds can reach" for group in PREY_GROUPS}
    said |= {f"{word(Predator(one))}s": f"{_spaced(word(Predator(one)))}s in the beds" for one in range(GENERALISTS)}
    said |= {f"{word(bee)}_visits": f"visits of {_spaced(word(bee))}s to flowers that day" for bee in Bee}
    return {name: said[name] for name in ("date", "day", *COLUMNS) if name in said}


def _spaced(name: str) -> str:
    return name.replace("_", " ")


DAY_WORDS = _words()
"""Column → what it holds."""
