"""What waits for next spring, on the screen: words, a picture, and a table by kind."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from dashboard.boards.springs import WAITING, Spring, kind_rows, pests, spring_sentences, spring_wishes, springs
from dashboard.charts.imprint import garden_words
from dashboard.language.saying import short_number
from dashboard.language.tongue import _, many
from dashboard.lesson.lesson import Lesson
from dashboard.page.placing import place_chart
from dashboard.page.running import run_step_by_step
from dashboard.page.taking import offer_picture
from dashboard.page.view import show_with_picture
from dashboard.page.visit import garden_in_hand, gardens, titles_in_hand


def show_spring(lesson: Lesson, seasons: Sequence[int], place: DeltaGenerator, bar: DeltaGenerator) -> None:
    """Run a second year behind each season, and show what waits for it."""
    garden = garden_in_hand(lesson)
    if garden.place.weather_file is not None:
        place.markdown(_("This garden has its weather from a file, so there is no second year to look at."))
        return
    wished = spring_wishes(garden, lesson.plans, seasons)
    run_step_by_step(
        wished,
        lambda found, is_all: show_waiting(lesson, springs(found, lesson.plans), seasons, is_all, place.container()),
        bar=bar,
    )


def show_waiting(
    lesson: Lesson, found: Mapping[str, Spring], seasons: Sequence[int], is_all: bool, place: DeltaGenerator
) -> None:
    """Show who waits for next spring under each plan, and what comes of it."""
    import pandas as pd

    from dashboard.charts.seasons_picture import draw, seasons_scene

    titles = titles_in_hand(lesson)
    counts = {plan: pests(one.coming) for plan, one in found.items()}
    rows = [
        (plan, season, WAITING.measure, count)
        for plan, some in counts.items()
        for season, count in zip(seasons, some, strict=False)
    ]
    scene = seasons_scene(pd.DataFrame(rows, columns=["plan", "seed", "measure", "value"]), titles, WAITING)
    count = len(next(iter(counts.values())))
    with place:
        st.header(many("What waits, {count} season", "What waits, {count} seasons", count).format(count=count))
        show_with_picture(
            lambda: place_chart(draw(scene), scene.alt),
            lambda: st.markdown("\n".join(f"- {sentence}" for sentence in spring_sentences(found, titles))),
        )
        st.markdown(scene.caption)
        table = pd.DataFrame(
            [
                (_(kind), short_number(now), *(short_number(mean) for mean in means))
                for kind, now, means in kind_rows(found)
            ],
            columns=[_("Mean count"), _("This spring"), *titles.values()],
        )
        st.table(
            table, hide_index=True, alt=_("Who waits in soil, stalks and margin: this spring, and the next by plan.")
        )
        st.markdown(
            _(
                "So a season does not end when it ends: what was left alive comes back, and eats the next crop. The "
                "second year has other weather than the first, the same for every plan. Most pests fly in from "
                "outside, and that does not change. Hunters such as spiders begin each spring alike here."
            )
        )
        if is_all:
            offer_picture(scene, "next_spring", garden_words(gardens()[lesson.garden]), list(seasons))
