"""Minutes and money of each kind of work, from the numbers of ``labour.toml``."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from sim.cast import Crop, Product, word
from sim.parameters.table import Parameters
from sim.practices.fabrics import Edges, Material
from sim.practices.workday import BedFacts

_SECONDS_PER_MINUTE = 60.0


@lru_cache(maxsize=8)
def _single_numbers(parameters: Parameters) -> dict[str, Any]:
    return {
        key.removeprefix("labour."): entry.value
        for key, entry in parameters.items()
        if key.startswith("labour.") and not isinstance(entry.value, tuple)
    }


class Labour:
    """How long jobs take [min] and what they cost [US$], by bed.

    A price that buys something for several years is spread over its life: the answer is the share of one season.
    """

    def __init__(self, parameters: Parameters) -> None:
        self._numbers = _single_numbers(parameters)
        self._cover_minutes_per_m2 = parameters.numbers("labour.cover_minutes_per_m2")
        self._spray_usd_per_m2 = parameters.numbers("labour.spray_price_usd_per_m2")
        self._pick_minutes = parameters.numbers("labour.pick_minutes_per_unit")
        self._fabric_usd_per_m2 = [
            parameters.number(f"nets.{word(material)}.price_usd_per_m2")
            / parameters.number(f"nets.{word(material)}.life_years")
            for material in Material
        ]
        self.net_check_every_days = round(self._number("net_check_every_days"))
        self.cut_rhythm_days = round(self._number("cut_rhythm_days"))

    def _number(self, name: str) -> float:
        value = self._numbers[name]
        assert isinstance(value, float)
        return value

    def plant_minutes(self, bed: BedFacts) -> float:
        """Return the minutes of planting or sowing a bed."""
        return bed.plants * self._number("sowing_minutes" if bed.is_sown else "transplant_minutes")

    def plant_usd(self, bed: BedFacts) -> float:
        """Return what the seed or the young plants cost."""
        return bed.plants * self._number("seed_price_usd" if bed.is_sown else "transplant_price_usd")

    def cover_minutes(self, bed: BedFacts, edges: Edges) -> float:
        """Return the minutes of putting a net on."""
        return float(self._cover_minutes_per_m2[edges]) * bed.area_m2

    def uncover_minutes(self, bed: BedFacts) -> float:
        """Return the minutes of taking a net off."""
        return self._number("uncover_minutes_per_m2") * bed.area_m2

    def net_usd(self, bed: BedFacts, material: Material) -> float:
        """Return a season's share of the net and its hoops."""
        net = self._fabric_usd_per_m2[material] * self._number("net_area_ratio")
        hoops = self._number("hoops_price_usd_per_m2") / self._number("hoops_life_years")
        return (net + hoops) * bed.area_m2

    def lift_minutes(self, bed: BedFacts) -> float:
        """Return the minutes of lifting a net for a job and closing it again."""
        return self._number("lift_minutes_per_bed") + self._number("lift_minutes_per_m2") * bed.area_m2

    def check_net_minutes(self) -> float:
        """Return the minutes of walking along a net's edge."""
        return self._number("net_check_minutes")

    def pick_minutes(self, bed: BedFacts, units: int) -> float:
        """Return the minutes of picking so many leaves, heads, roots or fruits."""
        return float(self._pick_minutes[Crop(bed.crop)]) * units

    def mixing_minutes(self) -> float:
        """Return the minutes of mixing and washing up, once a day of spraying."""
        return self._number("spray_fixed_minutes")

    def spray_minutes(self, bed: BedFacts) -> float:
        """Return the minutes of spraying a bed."""
        return self._number("spray_minutes_per_m2") * bed.area_m2

    def spray_usd(self, bed: BedFacts, product: Product) -> float:
        """Return what one spray of a bed uses up."""
        return float(self._spray_usd_per_m2[product]) * bed.area_m2

    def sprayer_usd(self) -> float:
        """Return a season's share of the sprayer."""
        return self._number("sprayer_price_usd") / self._number("sprayer_life_years")

    def scout_minutes(self, plants: int) -> float:
        """Return the minutes of looking over so many plants."""
        return self._number("scout_minutes_per_plant") * plants

    def hand_pick_minutes(self, bed: BedFacts, seconds_per_plant: float) -> float:
        """Return the minutes of searching every plant."""
        return bed.plants * seconds_per_plant / _SECONDS_PER_MINUTE

    def wash_minutes(self, bed: BedFacts) -> float:
        """Return the minutes of washing every plant."""
        return self._number("wash_minutes_per_plant") * bed.plants

    def pollinate_minutes(self, flowers: int, visits: int) -> float:
        """Return the minutes of touching each open flower so many times."""
        return self._number("hand_pollinate_minutes_per_touch") * flowers * visits

    def weed_minutes(self, bed: BedFacts) -> float:
        """Return the minutes of weeding a bed."""
        return self._number("weed_minutes_per_m2") * bed.area_m2

    def clean_up_minutes(self, bed: BedFacts) -> float:
        """Return the minutes of pulling every plant and carrying it off."""
        return self._number("clean_up_minutes_per_plant") * bed.plants

    def till_minutes(self, bed: BedFacts) -> float:
        """Return the minutes of turning the soil."""
        return self._number("till_minutes_per_m2") * bed.area_m2

    def flower_strip(self, area_m2: float) -> tuple[float, float]:
        """Return minutes and US$ of sowing a strip of flowers."""
        minutes = self._number("flower_strip_minutes_per_m2") * area_m2
        return minutes, self._number("flower_strip_price_usd_per_m2") * area_m2

    def hedgerow(self, length_m: float) -> tuple[float, float]:
        """Return minutes of planting a hedgerow and a season's share of its price [US$]."""
        price_usd = self._number("hedgerow_price_usd_per_m") / self._number("hedgerow_life_years")
        return self._number("hedgerow_minutes_per_m") * length_m, price_usd * length_m

    def nest_boxes(self, count: int) -> tuple[float, float]:
        """Return minutes of hanging boxes and a season's share of their price [US$]."""
        price_usd = self._number("nest_box_price_usd") / self._number("nest_box_life_years")
        return self._number("nest_box_minutes") * count, price_usd * count
