"""Following a number on the screen: who is behind it, when, and some of them one by one, from one season's records."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

import numpy as np
import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from dashboard.charts.imprint import garden_words
from dashboard.language.saying import say_date, say_number, short_number
from dashboard.language.tongue import _, many, mark
from dashboard.lesson.lesson import Lesson
from dashboard.page.placing import place_chart
from dashboard.page.running import Seasons, run_step_by_step
from dashboard.page.taking import offer_picture
from dashboard.page.visit import garden_in_hand, gardens, titles_in_hand
from dashboard.plans.deeds import say_name
from dashboard.seasons.ends import GREW_UP, GROUPS, fate_words, group_mask, kinds, stage_words
from dashboard.seasons.tracing import Example, Traced, traced_wishes
from sim.cast import SPECIES, Fate, Species, Stage
from sim.compiled import Ints
from sim.measures import spoken

NOTHING = mark("choose a number")
MOST_EXAMPLES = 5


def ask_number() -> str:
    """Ask which number to follow; return the words of its group, or an empty text."""
    options = [NOTHING, *GROUPS, GREW_UP]
    picked = st.selectbox(_("Follow which number?"), options, format_func=_, key="followed", persist_state="session")
    return "" if picked == NOTHING else picked


def follow(lesson: Lesson, kind: str, group: str, place: DeltaGenerator) -> None:
    """Run the first season again with somebody who notes each end, and show what was noted."""
    garden = garden_in_hand(lesson)
    wished = traced_wishes(garden, lesson.plans, lesson.season)
    run_step_by_step(wished, lambda found, _is_all: show_trace(lesson, kind, group, found, place.container()))


def show_trace(lesson: Lesson, kind: str, group: str, seasons: Seasons, place: DeltaGenerator) -> None:
    """Show weeks, kinds and stages, and examples, plan by plan."""
    from dashboard.charts.weeks_picture import draw, weeks_scene

    titles = titles_in_hand(lesson)
    first_day = garden_in_hand(lesson).first_date
    traced = {plan: lived for (plan, _season), lived in seasons.items() if isinstance(lived, Traced)}
    rows = {plan: rows_of(one, kinds()[kind], group) for plan, one in traced.items()}
    days = max(0 if one.days is None else len(one.days) for one in traced.values())
    what = _("{kind}: {end}").format(kind=_(kind), end=_(group))
    scene = weeks_scene({plan: by_week(mine) for plan, mine in rows.items()}, titles, what, first_day, days)
    with place:
        heading = _("Who is behind '{end}', season {season}")
        st.subheader(heading.format(end=_(group), season=lesson.season))
        if scene.frame.empty:
            st.markdown(_("Nobody ended so in this season, under any of these plans."))
            return
        for plan, title in titles.items():
            st.markdown(f"**{title}**: {_total(rows[plan])}")
            if not len(rows[plan]):
                continue
            place_chart(draw(scene, plan), f"{title}. {scene.alt}")
            told = [example_sentence(one, first_day) for one in examples_of(traced[plan], kinds()[kind], group)]
            st.markdown("\n".join(f"- {sentence}" for sentence in told))
            _show_kinds(rows[plan], title)
        st.markdown(scene.caption)
        offer_picture(scene, "weeks", garden_words(gardens()[lesson.garden]), [lesson.season])
        with st.expander(_("The weeks as a table")):
            st.table(scene.table, hide_index=True, alt=scene.alt)


def rows_of(traced: Traced, species: int | None, group: str) -> Ints:
    """Return the rows of a trace (week, species, stage, fate, count) that a group of fates of one kind stands for."""
    weeks, mask = traced.weeks, group_mask(group)
    wanted = mask[weeks[:, 2], weeks[:, 3]]
    if species is None:
        wanted &= weeks[:, 1] != Species.PARASITOID_WASP
    else:
        wanted &= weeks[:, 1] == species
    return np.asarray(weeks[wanted])


def by_week(rows: Ints) -> dict[int, int]:
    """Return week → how many."""
    return {int(week): int(rows[rows[:, 0] == week, 4].sum()) for week in np.unique(rows[:, 0])}


def by_kind(rows: Ints) -> list[tuple[int, int, int, int]]:
    """Return (species, stage, fate, how many), most first."""
    counts: dict[tuple[int, int, int], int] = {}
    for _week, species, stage, fate, count in rows.tolist():
        counts[species, stage, fate] = counts.get((species, stage, fate), 0) + count
    return sorted(((*kind, count) for kind, count in counts.items()), key=lambda one: (-one[3], one[:3]))


def examples_of(traced: Traced, species: int | None, group: str) -> list[Example]:
    """Return some insects behind a number, of as many kinds as there are, by day."""
    mask = group_mask(group)
    fitting = [
        one for one in traced.examples
        if mask[one.stage, one.fate]
        and (one.species == species if species is not None else one.species != Species.PARASITOID_WASP)
    ]  # fmt: skip
    turns: dict[int, int] = dict.fromkeys(range(SPECIES), 0)
    ranked = []
    for one in sorted(fitting, key=lambda example: example.key):
        ranked.append((turns[one.species], one.key, one))
        turns[one.species] += 1
    picked = [one for _turn, _key, one in sorted(ranked, key=lambda row: row[:2])[:MOST_EXAMPLES]]
    return sorted(picked, key=lambda example: (example.day, example.key))


def example_sentence(one: Example, first_day: date) -> str:
    """Return what became of one insect."""
    said = _("{day}, {bed}: a {kind}, {stage}, {mass} mg: {fate}.").format(
        day=say_date(first_day + timedelta(days=one.day)),
        bed=say_name(one.bed),
        kind=_(spoken(Species(one.species))),
        stage=stage_words(Stage(one.stage)),
        mass=short_number(one.mass_mg),
        fate=fate_words(Fate(one.fate)),
    )
    if not one.offspring:
        return said
    eggs = many("She had laid {count} egg.", "She had laid {count} eggs.", one.offspring)
    return f"{said} {eggs.format(count=one.offspring)}"


def _total(rows: Ints) -> str:
    count = int(rows[:, 4].sum())
    return many("{count} insect", "{count} insects", count).format(count=say_number(count))


def _show_kinds(rows: Ints, title: str) -> None:
    import pandas as pd

    cells: list[Mapping[str, str]] = [
        {
            _("Kind"): _(spoken(Species(species))),
            _("As"): stage_words(Stage(stage)),
            _("How it ended"): fate_words(Fate(fate)),
            _("How many"): say_number(count),
        }
        for species, stage, fate, count in by_kind(rows)
    ]
    with st.expander(_("By kind, stage and end: {plan}").format(plan=title)):
        alt = _("The insects behind this number under {plan}, by kind, stage and end.").format(plan=title)
        st.table(pd.DataFrame(cells), hide_index=True, alt=alt)
