"""Compare plans: pick a garden, some plans and a number of seasons; see the summary picture and its table."""

import streamlit as st

from dashboard.charts.picture import Picture
from dashboard.dress import show_cautions, show_limits
from dashboard.settings import FIRST_START_SECONDS, MOST_SEASONS
from sim.comparison import Comparison
from sim.scenario import Scenario

PLANS_AT_FIRST = 3
SEASONS_AT_FIRST = 10
LAST_SEED = 9_999


def page() -> None:
    """Draw the page from top to bottom."""
    from dashboard.running import gardens

    st.title("What does a net, a spray, or doing nothing do to a garden?")
    st.markdown(
        "Pick a garden and some plans. Every plan then meets the same seasons: the same weather, the same arrivals, "
        "the same luck. Only what the gardener does is different."
    )
    show_limits()
    known = gardens()
    left, right = st.columns([1, 2])
    with left:
        name = st.selectbox("Garden", list(known), format_func=lambda slug: known[slug].title, key="garden")
    garden = known[name]
    titles = {plan.name: plan.title for plan in garden.plans}
    with right:
        plans = st.multiselect(
            "Plans (the first one is what the others are set against)",
            list(titles),
            default=list(titles)[:PLANS_AT_FIRST],
            format_func=lambda slug: titles[slug],
            key=f"plans of {name}",
        )
    left, right = st.columns([1, 2])
    with left:
        seed = st.number_input("First season's number", 1, LAST_SEED, 1, help="Same number, same luck.", key="seed")
    with right:
        seasons = st.slider("Seasons for each plan", 1, MOST_SEASONS, SEASONS_AT_FIRST, key="seasons")
    if garden.about:
        st.markdown(garden.about)
    if not plans:
        st.warning("Pick at least one plan.")
    elif st.button("Run the seasons", type="primary") or st.session_state.get("has_run"):
        st.session_state["has_run"] = True
        show_comparison(garden, plans, int(seasons), int(seed))
    show_cautions()


def show_comparison(garden: Scenario, plans: list[str], seasons: int, seed: int) -> None:
    """Run what is not remembered yet and show picture, words and table."""
    from dashboard.results import comparison_picture, plan_titles
    from dashboard.running import compared
    from dashboard.sentences import fledging_sentence, headlines
    from sim.compiled import is_warm

    first_time = f"First start: preparing the rules, about {FIRST_START_SECONDS} seconds…"
    bar = st.progress(0.0, text="Starting the seasons…" if is_warm() else first_time)
    comparison = compared(
        garden, plans, seasons, seed, lambda done, every: bar.progress(done / every, text=f"Season {done} of {every}")
    )
    bar.empty()
    picture = comparison_picture(comparison.seasons, garden, plans)
    st.header(picture.title)
    said = [*headlines(comparison, plan_titles(garden, plans)), fledging_sentence(comparison.seasons)]
    st.markdown("\n".join(f"- {sentence}" for sentence in said if sentence))
    show_picture(picture)
    show_about(garden, plans)
    show_downloads(picture, comparison)


def show_picture(picture: Picture) -> None:
    """Show the picture, panel by panel, and under it the same figures as a table."""
    from dashboard.charts.on_screen import to_altair

    for first in range(0, len(picture.panels), 2):
        pair = picture.panels[first : first + 2]
        for column, panel in zip(st.columns(2), pair, strict=False):
            with column:
                alt = f"{panel.heading}. {picture.alt}"
                st.altair_chart(to_altair(picture, panel), width="stretch", theme=None, alt=alt)
    st.markdown(picture.caption)
    st.subheader("The same figures as a table")
    by_measure = picture.table.set_index("Plan").T.rename_axis("Measure").reset_index()
    st.table(by_measure, hide_index=True, alt=picture.alt)


def show_about(garden: Scenario, plans: list[str]) -> None:
    """Say what the gardener does under each plan."""
    with st.expander("What the gardener does under each plan"):
        for plan in plans:
            chosen = garden.plan(plan)
            st.markdown(f"**{chosen.title}.** {chosen.about}")


def show_downloads(picture: Picture, comparison: Comparison) -> None:
    """Offer the picture and the seasons as files, made only when asked for."""
    from sim.export import csv_bytes

    def png() -> bytes:
        from dashboard.charts.on_paper import picture_bytes

        return picture_bytes(picture, "png")

    left, right = st.columns(2)
    left.download_button("Picture (PNG)", png, "summary.png", "image/png", on_click="ignore", width="stretch")
    right.download_button(
        "All seasons (CSV)",
        lambda: csv_bytes(comparison.seasons),
        "seasons.csv",
        "text/csv",
        on_click="ignore",
        width="stretch",
    )


if __name__ == "__main__":
    page()
