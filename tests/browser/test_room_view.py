"""The view for a room: one sentence with three numbers, one picture, all of it large; kept from page to page."""

import re

import pytest
from selenium.webdriver.common.by import By

from tests.browser.watching import at_width, press, settled, wait_for

pytestmark = pytest.mark.browser
LEAST_LETTERS_PX, LEAST_LINE_PX = 46, 4
LOCKED = "harvest_order=2.1.3&birds_order=1.2.3&locked=yes"
TAPPED = f"lesson=late_cover&plans=nothing.net.net_some&taps=net_some%3Aless&{LOCKED}"
NEEDED = """
const px = one => parseFloat(getComputedStyle(one).fontSize);
const shown = one => one.getClientRects().length > 0;
const chart = document.querySelector('[data-testid=stVegaLiteChart] svg');
const scale = chart.getBoundingClientRect().width / chart.viewBox.baseVal.width;
const texts = [...document.querySelectorAll('[data-testid=stMain] h1')].map(one => [one.innerText, px(one)])
  .concat([...chart.querySelectorAll('text')].filter(shown).map(one => [one.textContent, px(one) * scale]));
const lines = [...chart.querySelectorAll('line, path, rect')].filter(one => {
  const style = getComputedStyle(one);
  return shown(one) && style.stroke !== 'none' && parseFloat(style.strokeWidth) > 0 && style.opacity > 0;
}).map(one => parseFloat(getComputedStyle(one).strokeWidth) * scale);
return [texts, lines, chart.getBoundingClientRect().bottom];
"""


@pytest.mark.parametrize(
    ("screen", "words"),
    [("compare", "view=room"), ("guess", f"view=room&{LOCKED}"), ("compare", f"view=room&{TAPPED}")],
)
def test_what_a_room_must_read_is_large(browser, address, screen, words):
    at_width(browser, 1920, 1080)
    browser.get(f"{address}/{screen}?{words}")
    wait_for(browser, lambda: browser.find_elements(By.CSS_SELECTOR, "[data-testid=stVegaLiteChart] svg text"))
    settled(browser)
    texts, lines, bottom = browser.execute_script(NEEDED)
    sentences = browser.find_elements(By.CSS_SELECTOR, "[data-testid=stMain] h1")
    assert len(sentences) == 1
    assert len(re.findall(r"\d+", sentences[0].text)) == 3
    assert len(browser.find_elements(By.CSS_SELECTOR, "[data-testid=stVegaLiteChart]")) == 1
    assert len(texts) > 8
    assert min(size for _, size in texts) >= LEAST_LETTERS_PX - 0.01, texts
    assert not any("…" in text for text, _ in texts), texts
    assert lines
    assert min(lines) >= LEAST_LINE_PX - 0.01
    assert bottom <= 1080
    assert not browser.find_elements(By.CSS_SELECTOR, "[data-testid=stSidebar], [data-testid=stMain] table")


@pytest.mark.parametrize(("width", "height"), [(1366, 768), (1366, 900), (1920, 1080)])
@pytest.mark.parametrize("words", ["view=room", f"view=room&{TAPPED}"])
def test_a_comparison_for_a_room_fits_the_screen_whole(browser, address, words, width, height):
    at_width(browser, width, height)
    browser.get(f"{address}/compare?{words}")
    wait_for(browser, lambda: browser.find_elements(By.CSS_SELECTOR, "[data-testid=stVegaLiteChart] svg text"))
    settled(browser)
    head, title, right, switch, bottom, picture, choices = browser.execute_script(
        "const box = name => document.querySelector(name).getBoundingClientRect();"
        "return [box('header').bottom, box('[data-testid=stMain] h1').top,"
        " box('[data-testid=stVegaLiteChart] svg').right,"
        " box('.st-key-view-switch button').right, box('.st-key-view-switch button').bottom,"
        " box('[data-testid=stVegaLiteChart] svg').bottom, box('.st-key-room-controls').top]"
    )
    assert head - 4 <= title  # letters begin below the top of their line
    assert bottom <= height
    assert picture <= choices + 1  # on dark paper a picture would hide what stands under it
    assert abs(right - switch) < 12
    least = browser.execute_script(
        "return Math.min(...[...document.querySelectorAll('[data-testid=stVegaLiteChart] svg text')]"
        ".map(one => one.getBoundingClientRect().height).filter(tall => tall > 0))"
    )
    assert least >= LEAST_LETTERS_PX * height / 1080


def test_a_room_taps_and_then_sees_guess_and_answer_in_one_sentence_and_one_picture(browser, address):
    at_width(browser, 1920, 1080)
    browser.get(f"{address}/compare?view=room&{TAPPED.replace('taps=net_some%3Aless&', '')}")
    press(browser, "About the same")
    wait_for(browser, lambda: browser.find_elements(By.CSS_SELECTOR, "[data-testid=stVegaLiteChart] svg text"))
    settled(browser)
    sentence = browser.find_element(By.CSS_SELECTOR, "[data-testid=stMain] h1").text
    assert re.match(r"You said: about the same\. The seasons said: \w+.*Net some, leave some for the birds", sentence)
    texts, _lines, _bottom = browser.execute_script(NEEDED)
    assert "You said: about the same." in [text for text, _ in texts]


def test_the_view_survives_a_change_of_page_and_can_be_left(browser, address):
    at_width(browser, 1920, 1080)
    browser.get(f"{address}/guess?view=room")
    wait_for(browser, lambda: browser.find_elements(By.CSS_SELECTOR, ".st-key-room-ask button"))
    settled(browser)
    sizes = browser.execute_script(
        "return [...document.querySelectorAll('.st-key-room-ask p')]"
        ".map(one => parseFloat(getComputedStyle(one).fontSize))"
    )
    assert min(sizes) >= LEAST_LETTERS_PX
    press(browser, "Show of hands")
    wait_for(browser, lambda: browser.find_elements(By.CSS_SELECTOR, ".st-key-room-ask input[type=number]"))
    settled(browser)
    press(browser, "Compare")
    wait_for(browser, lambda: browser.find_elements(By.CSS_SELECTOR, "[data-testid=stVegaLiteChart] svg text"))
    settled(browser)
    assert "view=room" in browser.current_url
    assert not browser.find_elements(By.CSS_SELECTOR, "[data-testid=stTable]")
    press(browser, "Leave the projector view")
    wait_for(browser, lambda: browser.find_elements(By.CSS_SELECTOR, "[data-testid=stTable]"))
    settled(browser)
    assert "view=room" not in browser.current_url


@pytest.mark.parametrize(("screen", "question"), [("", "Which garden"), ("share", "How do the class's devices")])
def test_a_screen_without_a_form_for_a_room_is_larger_and_keeps_its_head_and_the_way_out(
    browser, address, screen, question
):
    at_width(browser, 1920, 1080)
    browser.get(f"{address}/{screen}?view=room")
    wait_for(browser, lambda: browser.find_elements(By.CSS_SELECTOR, "[data-testid=stMain] h1"))
    settled(browser)
    way_out = browser.find_element(By.CSS_SELECTOR, ".st-key-view-switch button")
    assert way_out.text.endswith("Leave the projector view")
    top, below = browser.execute_script(
        "return [document.querySelector('.st-key-view-switch button').getBoundingClientRect().top,"
        " document.querySelector('header').getBoundingClientRect().bottom]"
    )
    assert 0 < below <= top < 300
    title = browser.find_element(By.CSS_SELECTOR, "[data-testid=stMain] h1")
    assert title.text.startswith(question)
    height = "return document.querySelector('[data-testid=stMain] h1').getBoundingClientRect().height"
    large = browser.execute_script(height)
    press(browser, "Leave the projector view")
    wait_for(browser, lambda: "view=room" not in browser.current_url)
    settled(browser)
    assert browser.execute_script(height) < large
