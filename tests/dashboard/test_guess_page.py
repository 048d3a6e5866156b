"""The guess: tapped or counted, locked, and set beside the season, in a lesson only once that has been watched."""

from tests.dashboard.test_page import app, button, one_desk, opened, text_of  # noqa: F401


def tapped(page):
    for question in ("harvest", "birds"):
        for plan in ("spray_weekly", "nothing", "net"):
            page = page.button(key=f"tap {question} {plan}").click().run()
    return page


def test_a_guess_is_tapped_locked_and_set_beside_the_season(app):  # noqa: F811
    page = opened(app, "guess", garden="leaf_bed")
    assert not any(one.label.startswith("Lock") for one in page.button)
    page = tapped(page)
    page = page.text_input[0].set_value("birds like sprays").run()
    page = button(page, "run season 1").click().run()
    assert not page.exception
    assert len(page.get("vega_lite_chart")) == 2
    assert "Guessed, most first: Spray every week by the calendar, then Do nothing" in text_of(page)
    assert page.text[0].value == "birds like sprays"
    assert list(page.table[0].value["Guessed"]) == ["2nd", "3rd", "1st"]
    page = button(page, "Guess again").click().run()
    assert not page.get("vega_lite_chart")
    assert not any(one.label.startswith("Lock") for one in page.button)


def test_a_plan_tapped_again_is_taken_back(app):  # noqa: F811
    page = opened(app, "guess", garden="leaf_bed")
    for _ in range(2):
        page = page.button(key="tap harvest net").click().run()
    assert "So far" not in text_of(page)


def test_a_guess_half_made_comes_back_with_its_link(app):  # noqa: F811
    page = opened(app, "guess", garden="leaf_bed")
    for plan in ("net", "nothing"):
        page = page.button(key=f"tap harvest {plan}").click().run()
    assert page.query_params["harvest_begun"] == "net.nothing"
    page = page.button(key="tap harvest spray_weekly").click().run()
    assert "harvest_begun" not in page.query_params
    assert page.query_params["harvest_order"] == "2.1.3"


def test_a_link_brings_back_a_guess_half_made(app):  # noqa: F811
    page = opened(app, "guess", garden="leaf_bed", harvest_begun="net.nothing")
    assert "So far, most first: Net from planting to last picking, then Do nothing about pests." in text_of(page)


def test_a_link_with_a_plan_that_is_not_guessed_about_is_told(app):  # noqa: F811
    page = opened(app, "guess", garden="leaf_bed", harvest_begun="net.hand_picking")
    assert "So far" not in text_of(page)
    assert "harvest_begun" not in page.query_params


def test_a_show_of_hands_is_a_guess_too(app):  # noqa: F811
    page = opened(app, "guess", garden="leaf_bed")
    page = page.segmented_control(key="way").set_value("hands").run()
    for question, hands in (("harvest", (3, 9, 9)), ("birds", (12, 0, 1))):
        for plan, count in zip(("nothing", "net", "spray_weekly"), hands, strict=True):
            page = page.number_input(key=f"hands {question} {plan}").set_value(count).run()
    page = button(page, "run season 1").click().run()
    assert list(page.table[0].value["Guessed"]) == ["3rd", "1st", "1st"]


def test_hands_are_asked_for_as_hands(app):  # noqa: F811
    page = opened(app, "guess", garden="leaf_bed", harvest_hands="3.9.9", harvest_order="3.1.1")
    assert any("Type in the hands for both questions" in one.value for one in page.caption)


def test_a_link_brings_back_a_locked_guess(app):  # noqa: F811
    page = opened(app, "guess", garden="leaf_bed", harvest_order="3.1.2", birds_order="1.2.3", locked="yes")
    assert list(page.table[0].value["Guessed"]) == ["3rd", "1st", "2nd"]
