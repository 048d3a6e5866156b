"""The story of one insect, one plant or one nest, in words, as far as the day that is shown."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from dashboard.language.saying import say_amount, say_date, say_number, say_share
from dashboard.language.tongue import _, many
from dashboard.player.names import CROPS, ENDS, FORMS, KINDS, NESTS, ONE, PLACES, bed_word
from sim.birds.nest import NestStage
from sim.cast import Bird, Crop, Entry, Fate, Species, Stage
from sim.film import Film, Followed, Form, Look, Step, Where
from sim.film.pages import FORMS as FORM_COUNT

LEAST_SHARE = 0.01
MOST_MOVES = 6
"""Of a restless insect only so many moves are told one by one."""
TURNS_OF_A_NEST = ("eggs_laid", "hatched", "fledged", "starved", "lost", "entangled")
"""What a nest's story tells of a day, in this order: columns of the film's record of nests."""


def story(film: Film, kind: str, number: int, day: int) -> tuple[str, list[str]]:
    """Return a heading and sentences.

    Parameters
    ----------
    film
        The film that is shown.
    kind
        ``insect``, ``plant`` or ``nest``.
    number
        Its place among those of the film.
    day
        What comes later is not told.

    Raises
    ------
    IndexError
        If there is no such one.
    """
    if kind == "insect":
        return name_of_insect(film, number), list(_of_insect(film, film.followed[number], day))
    if kind == "plant":
        return name_of_spot(film, number), list(_of_spot(film, number, day))
    if kind == "nest":
        return name_of_nest(film, number), list(_of_nest(film, number, day))
    raise IndexError(kind)


def name_of_insect(film: Film, number: int) -> str:
    """Return ``cabbage white 3``: the third of its species."""
    own = film.followed[number].species
    place = sum(one.species == own for one in film.followed[: number + 1])
    return _(ONE[Species(own)]).format(number=place)


def name_of_spot(film: Film, spot: int) -> str:
    """Return ``collard plant 4 in collards``, or how many plants a spot stands for."""
    spots = film.spots
    bed, crop = int(spots.bed[spot]), _(CROPS[Crop(int(spots.crop[spot]))])
    name = _bed(film, bed)
    place = int(np.count_nonzero(spots.bed[: spot + 1] == bed))
    if spots.plants[spot] > 1:
        words = _("{count} {crop} plants, patch {number} in {bed}")
        return words.format(count=int(spots.plants[spot]), crop=crop, number=place, bed=name)
    if bed == len(film.bed_names):
        return _("patch {number} of wild plants at the edge").format(number=place)
    return _("{crop} plant {number} in {bed}").format(crop=crop, number=place, bed=name)


def name_of_nest(film: Film, nest: int) -> str:
    """Return ``nest of a wren-like bird, 15 m away``."""
    record = film.nests[-1, nest]
    distance = say_amount(float(record["distance_m"]), "m")
    return _("{nest}, {distance} away").format(nest=_(NESTS[Bird(int(record["kind"]))]), distance=distance)


# -- an insect


def _of_insect(film: Film, one: Followed, day: int) -> Iterator[str]:
    steps = [step for step in one.steps if step.day <= day]
    if not steps:
        yield _("It has not come to the garden yet.")
        return
    yield _beginning(film, one, steps[0])
    yield from _moves(film, one, steps)
    if one.stung_day >= 0 and one.stung_day <= day:
        yield _("On {date} a small wasp laid her eggs into it.").format(date=_date(film, one.stung_day))
    if one.eaten_cm2 > 0 and one.end_day <= day:
        yield _("In all it ate {amount} of leaf.").format(amount=say_amount(one.eaten_cm2, "cm2"))
    if one.offspring and one.end_day <= day:
        yield many("She laid {count} egg.", "She laid {count} eggs.", one.offspring).format(count=one.offspring)
    if one.end_day > day:
        yield _("It is alive today.")
    elif one.fate != Fate.ALIVE:
        yield f"{_('On {date}:').format(date=_date(film, one.end_day))} {_(ENDS[Fate(one.fate)])}"
    else:
        yield _(ENDS[Fate.ALIVE])


def _beginning(film: Film, one: Followed, step: Step) -> str:
    where = _where(film, step)
    if one.entry == Entry.ARRIVED:
        words = _("It came to the garden on {date}, {form}: {where}.")
    elif one.entry == Entry.OVERWINTERED:
        words = _("It had spent the winter here. On {date} it was {form}: {where}.")
    else:
        words = _("It was born here on {date}, {form}: {where}.")
    return words.format(date=_date(film, step.day), form=_(FORMS[form_of(step.stage)]), where=where)


def _moves(film: Film, one: Followed, steps: list[Step]) -> Iterator[str]:
    told, plants = 0, len({step.plant for step in steps if step.plant >= 0})
    for before, step in pairwise(steps):
        grew = form_of(step.stage) != form_of(before.stage)
        moved = (step.plant, step.bed) != (before.plant, before.bed)
        if grew:
            words = _("On {date} it was {form}: {where}.")
            yield words.format(
                date=_date(film, step.day), form=_(FORMS[form_of(step.stage)]), where=_where(film, step)
            )  # fmt: skip
        elif moved and told < MOST_MOVES:
            told += 1
            yield _("On {date} it moved: {where}.").format(date=_date(film, step.day), where=_where(film, step))
        if step.inside >= 0 and before.inside < 0:
            yield _("The net over {bed} shut it in.").format(bed=_bed(film, step.inside))
    if told == MOST_MOVES:
        words = many(
            "It went on moving; it sat on one plant so far.",
            "It went on moving; it sat on {count} plants so far.",
            plants,
        )
        yield words.format(count=plants)


def _where(film: Film, step: Step) -> str:
    place = _(PLACES[Where(step.where)])
    if step.plant >= 0:
        spot = name_of_spot(film, int(film.spots.of_plant[step.plant]))
        return _("{place}, {plant}").format(place=place, plant=spot)
    return _("{place}, {bed}").format(place=place, bed=_bed(film, step.bed))


def form_of(stage: int) -> Form:
    """Return how a stage of a life is told apart by eye."""
    if stage == Stage.EGG:
        return Form.EGG
    if stage == Stage.PUPA:
        return Form.PUPA
    return Form.ADULT if stage == Stage.ADULT else Form.YOUNG


# -- a plant


def _of_spot(film: Film, spot: int, day: int) -> Iterator[str]:
    pages = film.pages
    looks, holes = pages.looks[: day + 1, spot], pages.holes_share[: day + 1, spot]
    there = np.flatnonzero(looks != Look.ABSENT)
    if not there.size:
        yield _("Nothing has come up here yet.")
        return
    yield _("It has been here since {date}.").format(date=_date(film, int(there[0])))
    seen = np.flatnonzero(holes >= 0.01)
    if seen.size:
        worst = int(holes.argmax())
        words = _("The first holes could be seen on {date}. At the worst, on {worst}, {share} of its leaf was gone.")
        yield words.format(date=_date(film, int(seen[0])), worst=_date(film, worst), share=say_share(holes[worst]))
        yield _("Today {share} of its leaf is gone.").format(share=say_share(holes[-1]))
    else:
        yield _("No hole can be seen in it so far.")
    for look, words in (
        (Look.FLOWERING, _("It flowered first on {date}.")),
        (Look.RIPE, _("There was something to pick from {date} on.")),
        (Look.DEAD, _("It was found dead on {date}.")),
        (Look.GONE, _("It was cut or cleared away on {date}.")),
    ):
        days = np.flatnonzero(looks == look)
        if days.size:
            yield words.format(date=_date(film, int(days[0])))
    yield _who_sits(film, spot, day)


def _who_sits(film: Film, spot: int, day: int) -> str:
    counts = film.insects()[:, spot, day]
    there = [
        _("{count} {kind}").format(count=say_number(int(counts[kind])), kind=_kind(kind))
        for kind in np.argsort(-counts, kind="stable").tolist()
        if counts[kind] > 0
    ]
    aphids = round(float(film.pages.aphids[day, spot]))
    if aphids:
        there.append(many("one aphid", "{count} aphids", aphids).format(count=say_number(aphids)))
    return _("On it today: {list}.").format(list="; ".join(there)) if there else _("No insect sits on it today.")


def _kind(kind: int) -> str:
    known = KINDS.get((Species(kind // FORM_COUNT), Form(kind % FORM_COUNT)))
    return _(known) if known else ""


# -- a nest


def _of_nest(film: Film, nest: int, day: int) -> Iterator[str]:
    records = film.nests[: day + 1, nest]
    now = records[-1]
    told = False
    for before, record, when in zip(records, records[1:], range(1, day + 1), strict=False):
        for column in TURNS_OF_A_NEST:
            gained = int(record[column]) - int(before[column])
            if gained > 0:
                told = True
                yield _turn(column, gained).format(date=_date(film, when), count=gained)
    if not told:
        yield _("There have been no eggs yet.")
    if now["stage"] == NestStage.NESTLINGS:
        yield many("{count} chick is in it today.", "{count} chicks are in it today.", int(now["nestlings"])).format(
            count=int(now["nestlings"])
        )
    fed = float(now["fed_so_far_kj"])
    if fed > 0:
        share = float(now["garden_so_far_kj"]) / fed
        least = (
            _("less than {share}").format(share=say_share(LEAST_SHARE)) if 0 < share < LEAST_SHARE else say_share(share)
        )
        yield _("So far {share} of the chicks' food came from this garden.").format(share=least)
    if now["parents"] == 0:
        yield _("Both parents are gone.")


def _turn(column: str, count: int) -> str:
    match column:
        case "eggs_laid":
            return many(
                "On {date} a clutch of one egg was begun.", "On {date} a clutch of {count} eggs was begun.", count
            )
        case "hatched":
            return many("On {date} a chick hatched.", "On {date} {count} chicks hatched.", count)
        case "fledged":
            return many("On {date} a young bird left the nest.", "On {date} {count} young birds left the nest.", count)
        case "starved":
            return many("On {date} a chick starved.", "On {date} {count} chicks starved.", count)
        case "lost":
            return many(
                "On {date} a chick was lost with the whole nest.",
                "On {date} {count} chicks were lost with the whole nest.",
                count,
            )
        case _:
            return many(
                "On {date} one of its birds was caught in a net.",
                "On {date} {count} of its birds were caught in a net.",
                count,
            )


def _date(film: Film, day: int) -> str:
    return say_date(film.date(day))


def _bed(film: Film, bed: int) -> str:
    return bed_word("margin") if bed >= len(film.bed_names) else bed_word(film.bed_names[bed])
