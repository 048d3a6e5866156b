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


def test_a_show_of_hands_is_a_guess_too(app):  # noqa: F811
    page = opened(app, "guess", garden="leaf_bed")
    page = page.segmented_control(key="way").set_value("hands").run()
    for question, hands in (("harvest", (3, 9, 9)), ("birds", (12, 0, 1))):
        for plan, count in zip(("nothing", "net", "spray_weekly"), hands, strict=True):
            page = page.number_input(key=f"hands {question} {plan}").set_value(count).run()
    page = button(page, "run season 1").click().run()
    assert list(page.table[0].value["Guessed"]) == ["3rd", "1st", "1st"]


def test_a_lesson_goes_from_the_locked_guess_to_the_season_itself(app):  # noqa: F811
    words = {"harvest_order": "2.1.3", "harvest_hands": "3.9.1", "birds_order": "1.2.3", "locked": "yes"}
    page = opened(app, "guess", lesson="late_cover", **words)
    assert page.get("page_link")[0].proto.label == "Next: watch the season"
    steps = [one.value for one in page.info]
    assert "Watch the season now. Guess and season stand side by side after it." in steps
    assert not any("lock the guess" in step for step in steps)
    assert not page.get("vega_lite_chart")
    assert "Hands: Do nothing about pests: 3; Net from planting to last picking: 9" in text_of(page)
    page = button(page, "Show what the season gave").click().run()
    assert len(page.get("vega_lite_chart")) == 2
    assert "shown" in page.query_params["locked"]
    assert "Hands: Do nothing about pests: 3" in text_of(page)
    page = page.text_area[0].set_value("the net came too late").run()
    assert "the net came too late" in page.query_params["reason"]
    page = button(page, "Guess again").click().run()
    assert "reason" not in page.query_params


def test_the_season_of_a_lesson_leads_back_to_guess_and_outcome(app):  # noqa: F811
    page = opened(app, "watch", lesson="late_cover", harvest_order="2.1.3", birds_order="1.2.3", locked="yes")
    assert not any(one.proto.label == "Next: compare more seasons" for one in page.get("page_link"))
    page = button(page, "what did you say, and what came?").click().run()
    assert page.title[0].value == "What do you expect?"
    assert len(page.get("vega_lite_chart")) == 2


def test_hands_are_asked_for_as_hands(app):  # noqa: F811
    page = opened(app, "guess", garden="leaf_bed", harvest_hands="3.9.9", harvest_order="3.1.1")
    assert any("Type in the hands for both questions" in one.value for one in page.caption)


def test_a_link_brings_back_a_locked_guess(app):  # noqa: F811
    page = opened(app, "guess", garden="leaf_bed", harvest_order="3.1.2", birds_order="1.2.3", locked="yes")
    assert list(page.table[0].value["Guessed"]) == ["3rd", "1st", "2nd"]
