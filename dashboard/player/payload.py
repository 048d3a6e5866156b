"""What a browser is handed to play one or two films: small arrays as text, and every word that will be said."""

from __future__ import annotations

import hashlib
import zlib
from base64 import b64encode
from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import Any

import numpy as np

from dashboard.language.saying import current_locale, in_units, say_amount, say_date, say_number, unit_after
from dashboard.language.tongue import _, many
from dashboard.page.view import LETTERS_PX
from dashboard.plans.deeds import MATERIALS, PRODUCTS
from dashboard.player.events import events_of
from dashboard.player.names import BEES, BIRDS, CROPS, KINDS, bed_word
from dashboard.player.pauses import stops
from dashboard.player.stories import name_of_insect, name_of_nest, name_of_spot
from dashboard.player.words import words_for_the_map
from sim.cast import SPECIES, Bee, Bird, Crop, Fate, Product, Species, word
from sim.compiled import Floats, Ints
from sim.film import Film, Followed, Form, Where
from sim.film.pages import FORMS
from sim.film.pages import KINDS as KIND_COUNT
from sim.film.runs import as_runs

MOST_DRAWN = 110
"""No kind is drawn more often than this at once; one drawing stands for as many insects as that takes."""
STEPS_OF_LEAF, STEPS_OF_HEAD, PERCENT, APHID_STEPS = 120, 40, 100, 4
_SCALES = (1, 2, 5)


def payload(
    films: Mapping[str, Film], titles: Mapping[str, str], days_of: Mapping[str, Mapping[str, int | None]],
    pauses: Sequence[Any], is_for_a_room: bool = False, foot: str = "", clock: str = "",
    unwatched: Mapping[str, str] = MappingProxyType({}),
) -> dict[str, Any]:  # fmt: skip
    """Return everything that the map needs to play these films on one clock.

    Parameters
    ----------
    films, titles
        Plan → film, and its title; of one garden and one season.
    days_of
        Plan → moment → day of the season, or None.
    pauses
        Where to stop and what to ask there.
    is_for_a_room
        Whether it is looked at from far away: letters as high as a room needs, three figures a plan, the legend closed.
    foot
        The small line below a picture that is taken away; no part of the film's name, for it changes every day.
    clock
        Name under which the browser remembers the day in hand while the page is open, in either view.
    unwatched
        Plan → title of those that can be put on the second map and were not yet.
    """
    shown = list(films.values())
    first = shown[0]
    insects = {plan: film.insects() for plan, film in films.items()}
    most_leaf = max(float(film.pages.leaf_cm2.max()) for film in shown)
    most_head = max(float(film.pages.head_cm2.max()) for film in shown)
    words: dict[str, Any] = {
        "days": first.days,
        "dates": [say_date(first.date(day)) for day in range(first.days)],
        "months": [day for day in range(first.days) if first.date(day).day == 1],
        "skies": _skies(first),
        "rain": [round(float(rain)) for rain in first.weather["rain_mm"]],
        "warmth": [round(float(warm)) for warm in first.weather["tmax_c"]],
        "ground": _ground(first),
        "leafScale": most_leaf / STEPS_OF_LEAF**2,
        "headScale": most_head / STEPS_OF_HEAD**2,
        "kindCount": KIND_COUNT,
        "kinds": _kinds(insects.values()),
        "bees": [{"name": _(BEES[bee]), "draw": f"bee{int(bee)}", "each": _bees_each(shown, bee)} for bee in Bee],
        "birds": [{"name": _(BIRDS[bird]), "draw": f"bird{int(bird)}"} for bird in Bird],
        "products": [_(PRODUCTS[word(product)]) for product in Product],
        "materials": [_(name) for name in MATERIALS.values()],
        "stops": stops(pauses, days_of, titles, first.first_date, first.days),
        "plans": [_film(plan, film, titles[plan], insects[plan], most_leaf, most_head) for plan, film in films.items()],
        "words": words_for_the_map(),
        "locale": current_locale().replace("_", "-"),
        "room": LETTERS_PX if is_for_a_room else 0,
    }
    return {
        **words,
        "foot": foot,
        "clock": clock,
        "unwatched": [{"plan": plan, "words": _unwatched(title)} for plan, title in unwatched.items()],
        "id": hashlib.blake2b(repr(words).encode(), digest_size=8).hexdigest(),
    }


def _unwatched(title: str) -> str:
    return _("Not yet watched: {plan}. Show it on the second map.").format(plan=title)


def _ground(film: Film) -> dict[str, Any]:
    spots = film.spots
    return {
        "beds": [
            {"name": bed_word(name), "row": bed_word(row), "box": [round(float(edge), 3) for edge in box]}
            for name, row, box in zip(film.bed_names, row_names(film.bed_names), film.bed_boxes_m, strict=True)
        ],
        "x": [round(float(x), 2) for x in spots.x_m],
        "y": [round(float(y), 2) for y in spots.y_m],
        "bed": spots.bed.tolist(),
        "crop": [word(Crop(int(crop))) for crop in spots.crop],
        "crops": {word(crop): _(name) for crop, name in CROPS.items()},
        "each": spots.plants.tolist(),
        "ground": [round(float(area), 3) for area in spots.ground_m2],
        "spotNames": [name_of_spot(film, spot) for spot in range(len(spots))],
    }


def row_names(beds: Sequence[str]) -> list[str]:
    """Return for each bed what it is called together with those that are alike, whose names end in -1, -2 and so on."""
    rows = [name.rstrip("0123456789").removesuffix("-") if name[-1].isdigit() else name for name in beds]
    return [row if rows.count(row) > 1 else name for name, row in zip(beds, rows, strict=True)]


def _kinds(insects: Any) -> list[dict[str, Any]]:
    """Return each kind that ever appears: its place in the array, name, drawing, and how many one stands for."""
    counts = [one.sum(axis=1).max(axis=1) for one in insects]
    most = np.max(counts, axis=0)
    return [
        {
            "kind": int(species) * FORMS + int(form),
            "name": _(name),
            "draw": drawing_of(species, form),
            "each": one_for(int(most[int(species) * FORMS + int(form)])),
        }
        for (species, form), name in KINDS.items()
        if most[int(species) * FORMS + int(form)] > 0
    ]


def drawing_of(species: Species, form: Form) -> str:
    """Return what the drawing is called in ``script/2_creatures.js``."""
    return f"{word(species)}_{word(form)}"


def one_for(most: int) -> int:
    """Return how many one drawing stands for: the least of 1, 2, 5, 10, 20 … that keeps the drawings few enough."""
    size = 1
    while True:
        for scale in _SCALES:
            if most <= MOST_DRAWN * scale * size:
                return scale * size
        size *= 10


def _bees_each(films: Sequence[Film], bee: Bee) -> int:
    return one_for(4 * max(int(film.pages.bee_visits[:, :, bee].sum(axis=1).max()) for film in films))


def _film(plan: str, film: Film, title: str, insects: Ints, most_leaf: float, most_head: float) -> dict[str, Any]:
    pages = film.pages
    aphids = np.rint(APHID_STEPS * np.log2(1.0 + pages.aphids)).astype(np.int64)
    arrays = {
        "leaf": _rooted(pages.leaf_cm2, most_leaf, STEPS_OF_LEAF),
        "head": _rooted(pages.head_cm2, most_head, STEPS_OF_HEAD),
        "holes": _parts(pages.holes_share),
        "looks": pages.looks.T,
        "flowers": pages.flowers.T,
        "fruits": pages.fruits.T,
        "aphids": aphids.T,
        "insects": insects,
        "net": pages.net.T,
        "open": _parts(pages.open_share),
        "sprayed": pages.sprayed.T,
        "picked": pages.picked.T,
        "away": np.rint(pages.turned_away).T,
        "bees": pages.bee_visits.transpose(1, 2, 0),
        "caught": np.rint(pages.taken_by_birds).transpose(1, 2, 0),
        "minutes": np.ceil(film.bird_minutes).transpose(1, 2, 0),
        "nestlings": film.nests["nestlings"].T,
    }
    return {
        "plan": plan,
        "title": title,
        "arrays": {name: _text(array) for name, array in arrays.items()},
        "nests": [
            {"name": name_of_nest(film, nest), "kind": int(film.nests[-1, nest]["kind"])}
            for nest in range(film.nests.shape[1])
        ],
        "followed": [_followed(film, number, one) for number, one in enumerate(film.followed)],
        "events": [{"day": one.day, "mark": one.mark, "words": one.words} for one in events_of(film)],
        "figures": _figures(film, insects),
    }


def _rooted(values: Floats, most: float, steps: int) -> Ints:
    """Return square roots in steps: sizes on a map are lengths."""
    return np.asarray(np.rint(steps * np.sqrt(values / most if most > 0 else values)), dtype=np.int64).T


def _parts(shares: Floats) -> Ints:
    return np.asarray(np.rint(PERCENT * shares), dtype=np.int64).T


def _text(array: Any) -> str:
    return b64encode(zlib.compress(as_runs(np.asarray(array)), 9)).decode("ascii")


def _followed(film: Film, number: int, one: Followed) -> dict[str, Any]:
    spots, beds = film.spots, len(film.bed_names) + 1
    steps: list[list[int]] = []
    for step in one.steps:
        place = len(spots) + step.bed
        if step.where == Where.SOIL:
            place += beds
        elif step.plant >= 0:
            place = int(spots.of_plant[step.plant])
        form = 0 if step.stage == 0 else 2 if step.stage == 6 else 3 if step.stage == 7 else 1
        if not steps or steps[-1][1:] != [form, place]:
            steps.append([step.day, form, place])
    end = one.end_day if one.fate != Fate.ALIVE else film.days
    return {
        "name": name_of_insect(film, number),
        "kind": int(one.species) * FORMS,
        "drawings": [drawing_of(Species(one.species), form) for form in Form],
        "steps": steps,
        "end": end,
    }


def _figures(film: Film, insects: Ints) -> list[dict[str, Any]]:
    """Return the few numbers that stand below a map, each with a value for every day."""
    beds = len(film.bed_names)
    crops = film.spots.bed < beds
    eaters = [s * FORMS + form for s in range(SPECIES - 1) for form in (1, 3)]
    on_plants = insects[:, : len(film.spots)][:, crops]
    pests = on_plants[eaters].sum(axis=(0, 1))
    outline = (film.pages.leaf_cm2[:, crops] * film.spots.plants[crops]).sum(axis=1)
    holes = (film.pages.leaf_cm2 * film.pages.holes_share * film.spots.plants)[:, crops].sum(axis=1)
    return [
        _counted(lambda n: many("pest on the plants", "pests on the plants", n), pests.tolist(), main=True),
        _measured(_("% of the leaf eaten"), np.rint(100 * holes / np.maximum(outline, 1.0)).tolist()),
        _measured(_("{unit} picked so far").format(unit=unit_after("kg")), _weight_so_far(film.picked_kg)),
        _measured(
            _("{unit} fit to sell so far").format(unit=unit_after("kg")), _weight_so_far(film.sold_kg), main=True
        ),
        _counted(
            lambda n: many("insect turned away by nets so far", "insects turned away by nets so far", n),
            _so_far(film.pages.turned_away.sum(axis=1)),
        ),
        _counted(
            lambda n: many("insect taken by birds so far", "insects taken by birds so far", n),
            _so_far(film.pages.taken_by_birds.sum(axis=(1, 2))),
        ),
        _counted(
            lambda n: many("chick in the nests", "chicks in the nests", n),
            film.nests["nestlings"].sum(axis=1).tolist(),
            main=True,
        ),
        _counted(
            lambda n: many("young bird out so far", "young birds out so far", n),
            _so_far(film.nests["fledged"].sum(axis=1)),
        ),
    ]


def _measured(name: str, values: Sequence[float], main: bool = False) -> dict[str, Any]:
    return {"name": name, "one": name, "values": values, "main": main}


def _counted(said: Callable[[int], str], values: Sequence[float], main: bool = False) -> dict[str, Any]:
    """Return a figure of what can be counted: it has another name for one."""
    return {**_measured(said(2), values, main), "one": said(1)}


def _so_far(values: Floats) -> list[int]:
    return [round(float(value)) for value in np.cumsum(values)]


def _weight_so_far(values_kg: Floats) -> list[float]:
    return [round(in_units(float(kg), "kg"), 1) for kg in np.cumsum(values_kg)]


def _warmth(degrees_c: float) -> str:
    """Return whole degrees: tenths of a degree say nothing to a gardener."""
    return _("{figure} {unit}").format(figure=say_number(round(in_units(degrees_c, "c")) + 0.0), unit=unit_after("c"))


def _skies(film: Film) -> list[dict[str, str]]:
    """Return for each day the drawing of its sky and its weather in words."""
    found = []
    for day in range(film.days):
        weather = {name: float(values[day]) for name, values in film.weather.items()}
        low, high = _warmth(weather["tmin_c"]), _warmth(weather["tmax_c"])
        sky = "rain" if weather["rain_mm"] >= 1.0 else "sun" if weather["clear_share"] >= 0.6 else "cloud"
        words = {
            "rain": _("Rain, {amount}. {low} to {high}."),
            "sun": _("Sunny. {low} to {high}."),
            "cloud": _("Cloudy. {low} to {high}."),
        }[sky]
        found.append(
            {"sky": sky, "words": words.format(amount=say_amount(weather["rain_mm"], "mm"), low=low, high=high)}
        )
    return found
