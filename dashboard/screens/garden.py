"""Choose a garden, the plans to set against each other, and the season to begin with."""

from collections.abc import Mapping

import streamlit as st

from dashboard.language.saying import say_amount, say_date, say_sentence
from dashboard.language.tongue import _, many, mark
from dashboard.lesson.lesson import LAST_SEASON, MOST_PLANS, Lesson, first_lesson
from dashboard.page.again import fresh, open_waiting_code, show_again, take_code
from dashboard.page.bring import show_own_files
from dashboard.page.dress import show_cautions, show_limits, show_way_on
from dashboard.page.running import first_start_words
from dashboard.page.visit import current_lesson, gardens, keep, open_screen, tell_what_was_moved
from dashboard.teaching.on_screen import choose_lesson, lead, show_lesson
from sim.errors import Sentence
from sim.scenario import Scenario

CLIMATES = {
    "warm_humid": mark("a warm, humid place"),
    "cool_maritime": mark("a cool place near the sea"),
    "dry_summer_maritime": mark("a place near the sea with dry summers"),
}
NESTS = {
    "tit_like": mark("tit-like birds (small, in holes)"),
    "wren_like": mark("wren-like birds"),
    "woodpecker_like": mark("woodpecker-like birds"),
}
HARVESTS = {"picking": mark("picked again and again"), "once": mark("cut once"), "none": mark("not picked")}


def page() -> None:
    """Draw the page from top to bottom."""
    lesson = open_screen(
        _("Which garden shall we look at?"),
        _(
            "A net, a spray, or leaving it alone: each helps somebody and costs somebody. Pick a garden and two to "
            "four plans. Every plan then meets the same weather, the same arrivals and the same luck."
        ),
    )
    way_on = st.container()  # above what is chosen: below, it would be out of sight
    if why := first_start_words():
        st.caption(why)
    choose_lesson()
    take_code()
    lesson = lead(current_lesson(), "garden")
    show_lesson(lesson)
    known = gardens()
    names, titles = list(known), titles_apart(known)
    name = st.selectbox(
        _("Garden"),
        names,
        names.index(lesson.garden),
        format_func=titles.__getitem__,
        key=fresh("garden chosen"),
    )
    if name != lesson.garden:
        lesson = first_lesson(known, name)
    garden = known[lesson.garden]
    plan_words = {plan.name: _(plan.title) for plan in garden.plans}
    plans = st.multiselect(
        _("Plans, two to four. The first is the one that the others are set against."),
        list(plan_words),
        list(lesson.plans),
        format_func=plan_words.__getitem__,
        max_selections=MOST_PLANS,
        key=fresh(f"plans of {lesson.garden}"),
    )
    season = st.number_input(
        _("First season: same number, same weather and luck"),
        1,
        LAST_SEASON,
        lesson.season,
        key=fresh(f"season {name}"),
    )
    if len(plans) > 1:
        lesson = lesson.with_plans(plans).with_season(int(season))
        with way_on:
            show_way_on("screens/guess.py", _("Next: make a guess"))
    elif len(plan_words) > 1:
        st.warning(_("Pick at least two plans, so that there is something to compare."))
    else:
        lesson = lesson.with_season(int(season))
        st.warning(
            _("This garden has one plan. It can be watched; to compare, give its file a second '[[plans]]' block.")
        )
        with way_on:
            show_way_on("screens/watch.py", _("Next: watch the season"))
    keep(lesson)
    tell_what_was_moved(lesson)
    show_own_files(lesson, open_waiting_code)
    show_plans(garden, lesson)
    show_garden(garden)
    show_again(lesson)
    show_limits()
    show_cautions()


def titles_apart(known: Mapping[str, Scenario]) -> dict[str, str]:
    """Return slug → title, no title twice.

    A list picks by its words, and a garden taken, changed and brought back is called as the one that it came from.
    """
    told: dict[str, str] = {}
    for slug, garden in known.items():
        title = _(garden.title)
        same = sum(_(known[other].title) == title for other in told)
        told[slug] = _("{garden}, number {count}").format(garden=title, count=same + 1) if same else title
    return told


def show_plans(garden: Scenario, lesson: Lesson) -> None:
    """Say what the gardener does under each plan, and how the plans differ."""
    from dashboard.plans.deeds import difference_sentence, say_plan

    st.header(_("What the gardener does"))
    for name in lesson.plans:
        plan = garden.plan(name)
        with st.expander(_(plan.title)):
            st.markdown(_(plan.about))
            st.markdown("\n".join(f"- {deed}" for deed in say_plan(plan)))
    st.markdown("\n".join(f"- {difference_sentence(garden, lesson.plans[0], other)}" for other in lesson.plans[1:]))


def show_garden(garden: Scenario) -> None:
    """Say where the garden lies, what grows in it and who nests near by."""
    import pandas as pd

    from dashboard.plans.deeds import say_name

    st.header(_("What grows and lives there"))
    st.markdown(_(garden.about))
    if garden.place.climate:
        said = _("It lies in {place}. Weather is drawn anew for each season.")
        st.markdown(said.format(place=_(CLIMATES[garden.place.climate])))
    else:
        st.markdown(_("Its weather comes from a file and is the same in every season; arrivals and luck differ."))
        for note in notes_on_weather(garden.name, garden):
            st.info(say_sentence(note))
    rows = [
        (
            say_name(bed.name),
            _(bed.crop),
            bed.repeat,
            bed.plant_count * bed.repeat,
            say_date(bed.planted),
            _(HARVESTS[bed.harvest]),
        )
        for bed in garden.beds
    ]
    columns = [_("Bed"), _("Crop"), _("How many beds"), _("Plants"), _("Planted or sown"), _("Harvest")]
    table = pd.DataFrame(rows, columns=columns)
    if all(bed.repeat == 1 for bed in garden.beds):
        table = table.drop(columns=columns[2])
    alt = _("The beds of {garden}, with crop, plants, planting day and harvest.").format(garden=_(garden.title))
    st.table(table, hide_index=True, alt=alt)
    nests = [
        many("a nest of {birds}, {far} away", "{count} nests of {birds}, {far} away", nest.count).format(
            count=nest.count, birds=_(NESTS[nest.kind]), far=say_amount(nest.distance_m, "m")
        )
        for nest in garden.birds.nests
    ]
    st.markdown(_("Birds with young: {nests}.").format(nests="; ".join(nests)) if nests else _("No nests in reach."))


@st.cache_data(scope="session", show_spinner=False)
def notes_on_weather(name: str, _garden: Scenario) -> tuple[Sentence, ...]:
    """Return what was done to the weather file of the garden of this name.

    It is remembered for the visit: the page is drawn at every tap, and many years take a second to read.
    """
    from sim.season import weather_notes

    return tuple(weather_notes(_garden))


if __name__ == "__main__":
    page()
