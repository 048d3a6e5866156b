"""What happened when, in words: marks on the line of days, the news of a day, and the table beneath the map."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from dashboard.language.saying import say_list
from dashboard.language.tongue import _, many, mark
from dashboard.plans.deeds import PRODUCTS
from dashboard.player.names import EGGS, NESTS, bed_word
from sim.cast import Bird, Product, Species, word
from sim.film import Film, Happening

MARKS = {
    "planted": "plant",
    "cover_on": "net",
    "cover_off": "net",
    "turned_away": "net",
    "sprayed": "spray",
    "hand_picked": "hand",
    "eggs_of": "egg",
    "holes_seen": "bite",
    "first_flower": "flower",
    "picking_begins": "basket",
    "plants_die": "bite",
    "nest_eggs": "nest",
    "hatch": "nest",
    "fledged": "nest",
    "chicks_starved": "lost",
    "nest_lost": "lost",
    "bird_in_net": "caught",
}
"""What a mark on the line looks like, for each thing that can happen."""
MARK_WORDS = {
    "plant": mark("planting"),
    "net": mark("net on, off or at work"),
    "spray": mark("spray"),
    "hand": mark("pests picked by hand"),
    "egg": mark("first eggs of a pest"),
    "bite": mark("damage"),
    "flower": mark("first flowers"),
    "basket": mark("picking begins"),
    "nest": mark("eggs, hatch or fledging in a nest"),
    "lost": mark("a nest lost, or chicks starved"),
    "caught": mark("a bird caught in a net"),
}
IN_BEDS = {
    "planted": mark("Planted: {beds}."),
    "cover_on": mark("Net on: {beds}."),
    "cover_off": mark("Net off: {beds}."),
    "hand_picked": mark("Pests picked by hand: {beds}."),
    "holes_seen": mark("First holes to be seen: {beds}."),
    "first_flower": mark("First fruit flowers open: {beds}."),
    "picking_begins": mark("Picking begins: {beds}."),
    "plants_die": mark("The first plants die: {beds}."),
}


@dataclass(frozen=True)
class Event:
    """One thing that happened, on one day, in words."""

    day: int
    mark: str
    words: str


def events_of(film: Film) -> list[Event]:
    """Return all that happened under a plan, day by day; what was done in several beds on a day is one event."""

    def sort(one: Happening) -> tuple[int, str, int, int]:
        return one.day, one.name, one.kind, one.nest

    together = [list(group) for _key, group in groupby(film.happenings, sort)]
    return [Event(some[0].day, MARKS[some[0].name], _words(some, film)) for some in together]


def _words(some: Sequence[Happening], film: Film) -> str:
    first = some[0]
    beds = _beds(some, film)
    if first.name in IN_BEDS:
        return _(IN_BEDS[first.name]).format(beds=beds)
    if first.name == "sprayed":
        product = _(PRODUCTS[word(Product(first.kind))])
        return _("Sprayed with {product}: {beds}.").format(product=product, beds=beds)
    if first.name == "turned_away":
        return _("The net turns the first insects away: {beds}.").format(beds=beds)
    if first.name == "eggs_of":
        return _(EGGS[Species(first.kind)])
    return _of_a_nest(first)


def _beds(some: Sequence[Happening], film: Film) -> str:
    numbers = sorted({one.bed for one in some if one.bed >= 0})
    if len(numbers) == len(film.bed_names) > 1:
        return _("every bed")
    names = [bed_word(film.bed_names[number]) for number in numbers]
    if len(names) > MOST_BEDS:
        return _("{beds} and {count} more beds").format(beds=", ".join(names[:2]), count=len(names) - 2)
    return say_list(names)


MOST_BEDS = 6


def _of_a_nest(one: Happening) -> str:
    nest = _(NESTS[Bird(one.kind)])
    if one.name == "nest_eggs":
        words = many("In the {nest}: {count} egg begun.", "In the {nest}: a clutch of {count} eggs.", one.count)
    elif one.name == "hatch":
        words = many("In the {nest}: {count} chick hatches.", "In the {nest}: {count} chicks hatch.", one.count)
    elif one.name == "fledged":
        words = many("{count} young bird leaves the {nest}.", "{count} young birds leave the {nest}.", one.count)
    elif one.name == "chicks_starved":
        words = many("In the {nest}: {count} chick starves.", "In the {nest}: {count} chicks starve.", one.count)
    elif one.name == "nest_lost":
        words = _("The {nest} is lost or empty.")
    else:
        words = many(
            "A bird of the {nest} is caught in a net. Call a wildlife rescue if you ever see this.",
            "{count} birds of the {nest} are caught in a net. Call a wildlife rescue if you ever see this.",
            one.count,
        )
    return words.format(nest=nest, count=one.count)
