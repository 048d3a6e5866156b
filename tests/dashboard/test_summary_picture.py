"""The summary picture says what the seasons say, to every reader."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dashboard.charts.imprint import Imprint
from dashboard.charts.palette import DARK_PAPER, LOOKS, ON_DARK_PAPER, PAPER, contrast
from dashboard.charts.picture import axis_ticks, short_number
from dashboard.charts.printed.pictures import sheet_of
from dashboard.charts.printed.shapes import HALF_PAGE, Style
from dashboard.charts.summary import PANELS, summary_picture
from tests.dashboard.invented import TITLES, comparison


@pytest.fixture(scope="module")
def seasons():
    return comparison().seasons


def drawn(picture):
    return sheet_of(picture, Style(HALF_PAGE), Imprint("An invented garden")).figure


@pytest.fixture(scope="module")
def picture(seasons):
    return summary_picture(seasons, TITLES, "An invented garden")


def test_every_measure_drawn_is_one_that_the_model_reports():
    from sim.measures import MEASURES

    assert {lane.measure for panel in PANELS for lane in panel.lanes} <= set(MEASURES)


def test_every_season_is_a_mark(picture):
    counts = picture.frame.groupby(["measure", "plan"])["season"].nunique()
    assert set(counts) == {12}
    assert len(counts) == 6 * len(TITLES)


def test_alternative_text_and_table_carry_every_plan_and_mean(picture, seasons):
    means = seasons.groupby(["plan", "measure"])["value"].mean()
    for number, (slug, title) in enumerate(TITLES.items()):
        assert title in picture.alt
        assert picture.table["Plan"][number] == title
        for measure, factor in [("harvest_kg", 1), ("egg_to_adult_share", 100), ("bird_food_in_beds_g", 1)]:
            said = short_number(means[slug, measure] * factor)
            assert said in picture.alt
            assert any(str(cell).startswith(f"{said} (") for cell in picture.table.iloc[number])


def test_one_season_has_no_range_and_says_so(seasons):
    one = summary_picture(seasons[seasons["seed"] == 1], TITLES, "An invented garden")
    assert "One season" in one.caption
    assert not one.table.iloc[:, 1:].map(lambda cell: "(" in cell).to_numpy().any()


def test_a_garden_without_nests_has_no_panel_for_them_and_says_so(seasons):
    without = seasons[~seasons["measure"].str.startswith("bird_food")]
    bare = summary_picture(without, TITLES, "An invented garden")
    assert [panel.heading for panel in bare.panels] == ["Harvest", "Pests that grow up", "Pests at their peak"]
    assert "No figures in this garden: food for birds" in bare.caption
    assert len([axes for axes in drawn(bare).axes if axes.get_visible()]) == 3


def test_eggs_of_mixed_kinds_come_with_a_warning_where_they_are_drawn(picture, seasons):
    """Where a net leaves only hardy kinds, more of a hundred eggs grow up though no kind fares better."""
    warning = "Eggs of all kinds of pests are counted together"
    without = summary_picture(seasons[seasons["measure"] != "egg_to_adult_share"], TITLES, "An invented garden")
    assert warning in picture.caption
    assert warning not in without.caption


def test_a_plan_without_a_figure_says_none_and_draws_no_mark(seasons):
    has_no_eggs = (seasons["plan"] == "net") & (seasons["measure"] == "egg_to_adult_share")
    gap = summary_picture(seasons.assign(value=seasons["value"].mask(has_no_eggs)), TITLES, "An invented garden")
    assert gap.table.loc[1, "Pests: of 100 eggs, this many adults"] == "none"
    assert "none" in [text.get_text() for text in drawn(gap).axes[1].texts]


def test_colours_stand_out_on_white_and_marks_differ_without_colour():
    assert all(contrast(look.colour, PAPER) >= 3 for look in LOOKS)
    assert all(contrast(ON_DARK_PAPER[look.colour], DARK_PAPER) >= 3 for look in LOOKS)
    assert len({look.on_paper for look in LOOKS}) == len({look.on_screen for look in LOOKS}) == len(LOOKS)


@given(st.floats(0.001, 1e7), st.integers(2, 6))
def test_axis_figures_are_few_and_reach_the_data(highest, most):
    ticks = axis_ticks(highest, most)
    assert ticks[0] == 0
    assert 2 <= len(ticks) <= most + 2
    assert ticks[-1] >= 0.5 * highest


@pytest.mark.parametrize(
    ("value", "said"),
    [(0, "0"), (0.623, "0.62"), (7.41, "7.4"), (86.2, "86"), (1240.4, "1,240"), (-3.04, "\N{MINUS SIGN}3.0")],
)
def test_numbers_are_said_as_a_reader_would(value, said):
    assert short_number(value) == said
