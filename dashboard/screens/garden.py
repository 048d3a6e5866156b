"""Choose a garden, the plans to set against each other, and the season to begin with."""

import streamlit as st

from dashboard.dress import show_cautions, show_limits
from dashboard.lesson import LAST_SEASON, MOST_PLANS, Lesson, first_lesson
from dashboard.visit import gardens, keep, open_screen
from sim.scenario import Scenario

CLIMATES = {
    "warm_humid": "a warm, humid place",
    "cool_maritime": "a cool place near the sea",
    "dry_summer_maritime": "a place near the sea with dry summers",
}
NESTS = {
    "tit_like": "small birds that nest in holes",
    "wren_like": "wren-like birds",
    "woodpecker_like": "woodpecker-like birds",
}


def page() -> None:
    """Draw the page from top to bottom."""
    lesson = open_screen(
        "Which garden shall we look at?",
        "A net, a spray, or leaving it alone: each helps somebody and costs somebody. Pick a garden and two to four "
        "plans. Every plan then meets the same weather, the same arrivals and the same luck.",
    )
    known = gardens()
    names = list(known)
    name = st.selectbox(
        "Garden", names, names.index(lesson.garden), format_func=lambda slug: known[slug].title, key="garden chosen"
    )
    if name != lesson.garden:
        lesson = first_lesson(known, name)
    garden = known[lesson.garden]
    plan_words = {plan.name: plan.title for plan in garden.plans}
    plans = st.multiselect(
        "Plans, two to four. The first is the one that the others are set against.",
        list(plan_words),
        list(lesson.plans),
        format_func=plan_words.__getitem__,
        max_selections=MOST_PLANS,
        key=f"plans of {lesson.garden}",
    )
    season = st.number_input(
        "First season: same number, same weather and luck", 1, LAST_SEASON, lesson.season, key=f"season {name}"
    )
    if len(plans) > 1:
        lesson = lesson.with_plans(plans).with_season(int(season))
        st.page_link("screens/guess.py", label="Next: make a guess", icon=":material/arrow_forward:")
    else:
        st.warning("Pick at least two plans, so that there is something to compare.")
    keep(lesson)
    show_plans(garden, lesson)
    show_garden(garden)
    show_limits()
    show_cautions()


def show_plans(garden: Scenario, lesson: Lesson) -> None:
    """Say what the gardener does under each plan, and how the plans differ."""
    from dashboard.deeds import difference_sentence, say_plan

    st.header("What the gardener does")
    for name in lesson.plans:
        plan = garden.plan(name)
        with st.expander(f"{plan.title}"):
            st.markdown(plan.about)
            st.markdown("\n".join(f"- {deed}" for deed in say_plan(plan)))
    st.markdown("\n".join(f"- {difference_sentence(garden, lesson.plans[0], other)}" for other in lesson.plans[1:]))


def show_garden(garden: Scenario) -> None:
    """Say where the garden lies, what grows in it and who nests near by."""
    import pandas as pd

    from dashboard.deeds import say_date

    st.header("What grows and lives there")
    st.markdown(garden.about)
    if garden.place.climate:
        st.markdown(f"It lies in {CLIMATES[garden.place.climate]}. Weather is drawn anew for each season.")
    rows = [
        (
            bed.name.replace("_", " "),
            bed.crop,
            bed.plant_count * bed.repeat,
            say_date(bed.planted),
            {"picking": "picked again and again", "once": "cut once", "none": "not picked"}[bed.harvest],
        )
        for bed in garden.beds
    ]
    beds = pd.DataFrame(rows, columns=["Bed", "Crop", "Plants", "Planted or sown", "Harvest"])
    st.table(beds, hide_index=True, alt=f"The beds of {garden.title}, with crop, plants, planting day and harvest.")
    nests = [
        f"{nest.count} nests of {NESTS[nest.kind]}, {nest.distance_m:g} m away"
        if nest.count > 1
        else f"a nest of {NESTS[nest.kind]}, {nest.distance_m:g} m away"
        for nest in garden.birds.nests
    ]
    st.markdown(f"Birds with young: {'; '.join(nests)}." if nests else "No nests in reach.")


if __name__ == "__main__":
    page()
