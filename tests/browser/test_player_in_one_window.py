"""What a class sees of the garden map at once: question and map in one window, and no first mark lost."""

import re

import pytest

from tests.browser.map_player import open_map, run
from tests.browser.test_player import LEAF, part, press_play
from tests.browser.watching import at_width, wait_for

pytestmark = pytest.mark.browser


def test_the_line_of_days_keeps_first_eggs_and_tells_in_words_what_has_no_room(browser, address):
    open_map(browser, address, LEAF)
    drawn, left = run(
        browser,
        "const { drawn, left } = player.line.sorted([{ mark: 'plant', day: 30 }, { mark: 'egg', day: 31 },"
        " { mark: 'plant', day: 90 }, { mark: 'basket', day: 91 }]);"
        "return [drawn, left].map((some) => some.map((one) => `${one.mark} ${one.day}`));",
    )
    assert drawn == ["egg 31", "basket 91"]
    assert sorted(left) == ["plant 30", "plant 90"]
    counted = run(browser, "return player.films.map((film) => player.line.sorted(film.events).left.length)")
    told = re.findall(r"\((\d+)\)", part(browser, "left-out").text)
    assert sum(counted) == sum(map(int, told)) > 0


@pytest.mark.parametrize(("width", "height", "share"), [(1366, 768, 1), (390, 844, 0.5)])
def test_play_brings_the_question_and_the_map_into_one_window(browser, address, width, height, share):
    at_width(browser, width, height)
    open_map(browser, address, "?plans=nothing.net")
    run(browser, "player.goTo(0)")
    press_play(browser)
    wait_for(browser, lambda: part(browser, "pause").is_displayed())
    boxes = "return ['head', 'stage'].map((one) => map.querySelector(`.${one}`).getBoundingClientRect().toJSON())"
    head, stage = run(browser, boxes)
    below = browser.execute_script("return document.querySelector('header').getBoundingClientRect().bottom")
    assert below <= head["top"]
    assert stage["top"] + share * stage["height"] <= height
