"""The garden map in a real Chromium: it plays by itself, stops at questions, tells stories, and needs no mouse."""

import base64
import io
import json
import statistics

import pytest
from PIL import Image
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from tests.browser.map_player import open_map, run, run_and_wait
from tests.browser.watching import at_width, press, settled, violations, wait_for, words_on

pytestmark = pytest.mark.browser
LEAF = "?garden=leaf_bed"
WITHOUT_NET = "?garden=leaf_bed&plans=nothing.spray_weekly.hand_picking"
DISCS, TIMES_THE_DISCS, ROUNDS = 500, 1.5, 9


def part(browser, name):
    return run(browser, "return map.querySelector(`.${arguments[0]}`)", name)


def press_play(browser):
    button = part(browser, "play")
    browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", button)
    button.click()


def day(browser):
    return run(browser, "return player.day")


def sent_to_the_server(browser):
    messages = [json.loads(entry["message"])["message"] for entry in browser.get_log("performance")]
    return [one for one in messages if one["method"] == "Network.webSocketFrameSent"]


def test_it_plays_without_asking_the_server(browser, address):
    open_map(browser, address, LEAF)
    run(browser, "map.querySelector('.stop').checked = false; map.querySelector('.speed').value = '20'; player.goTo(0)")
    settled(browser)
    sent_to_the_server(browser)
    press_play(browser)
    wait_for(browser, lambda: day(browser) > 60)
    press_play(browser)
    assert run(browser, "return player.isPlaying") is False
    assert run(browser, "return player.frames") > 20
    assert sent_to_the_server(browser) == []
    shown = part(browser, "date").text
    assert shown == run(browser, "return player.data.dates[player.day]")


@pytest.mark.benchmark
def test_a_frame_costs_no_more_than_a_thousand_discs(browser, address):
    """Both maps of the teaching garden in June, a new day every sixth frame, against five hundred discs on each map.

    On a machine where the ratio was 0.9 the browser, slowed fourfold, drew 29 frames a second; with a ratio of 1.2 it
    drew 22 there, and elsewhere 45. The rate is the machine's as much as the map's: ``tests/benchmarks/frames.py``.
    """
    open_map(browser, address, "")
    found = run(
        browser,
        """
        const [discs, rounds] = arguments;
        const drawnOut = (canvas) => canvas.getContext("2d").getImageData(0, 0, 1, 1);
        const timed = (draw) => {
          const begun = performance.now();
          for (let frame = 0; frame < 30; frame++) draw(frame);
          return performance.now() - begun;
        };
        const drawMaps = (frame) => {
          player.day = 95 + Math.floor(frame / 6);
          if (frame % 6 === 0) player.show();
          player.isPlaying = true;
          player.paint(frame / 30);
          player.isPlaying = false;
          for (const one of player.maps) drawnOut(one.canvas);
        };
        const sheets = player.maps.map((one) => {
          const sheet = document.createElement("canvas");
          [sheet.width, sheet.height] = [one.canvas.width, one.canvas.height];
          return sheet;
        });
        const drawDiscs = () => {
          for (const sheet of sheets) {
            const c = sheet.getContext("2d");
            for (let n = 0; n < discs; n++) {
              c.fillStyle = n % 2 ? "#123456" : "#abcdef";
              c.beginPath();
              c.arc(((n * 0.618) % 1) * sheet.width, ((n * 0.414) % 1) * sheet.height, 8, 0, 2 * Math.PI);
              c.fill();
            }
            drawnOut(sheet);
          }
        };
        player.goTo(95);
        return Array.from({ length: rounds }, () => timed(drawMaps) / timed(drawDiscs));
        """,
        DISCS,
        ROUNDS,
    )
    print("a frame over a thousand discs:", [round(ratio, 2) for ratio in found])
    assert statistics.median(found) <= TIMES_THE_DISCS


def test_it_stops_at_every_question_and_goes_on(browser, address):
    open_map(browser, address, LEAF)
    stops = run(browser, "return player.data.stops.map((stop) => [stop.day, stop.question])")
    assert len(stops) >= 4
    run(browser, "map.querySelector('.speed').value = '20'; player.goTo(0)")
    for stop_day, question in stops:
        press_play(browser)
        wait_for(browser, lambda: not run(browser, "return player.isPlaying"), 60)
        assert (day(browser), part(browser, "pause-question").text) == (stop_day, question)
        assert part(browser, "pause").is_displayed()
        assert question in run(browser, "return map.querySelector('.live').textContent")
        assert part(browser, "play").text == "Go on"


def test_a_plan_that_never_sees_the_event_says_so_on_the_fallback_day(browser, address):
    open_map(browser, address, "?garden=cucumber_bed&plans=nothing.net")
    told = run(browser, "return player.data.stops.map((stop) => stop.says.join(' '))")
    never = [n for n, says in enumerate(told) if "never this season" in says]
    for n in never:
        run(browser, "player.goTo(player.data.stops[arguments[0]].day - 1); player.goTo(player.day + 1, true)", n)
        assert "never this season" in part(browser, "pause-says").text
    assert never


def test_it_is_used_by_keyboard_alone_and_tells_a_story(browser, address):
    open_map(browser, address, LEAF)
    run(browser, "player.goTo(120); map.querySelector('.play').focus()")
    browser.switch_to.active_element.send_keys(Keys.ENTER)
    wait_for(browser, lambda: day(browser) > 121)
    active(browser).send_keys(Keys.ENTER)
    paused = day(browser)
    run(browser, "map.querySelector('.scrub').focus()")
    active(browser).send_keys(Keys.ARROW_RIGHT)
    wait_for(browser, lambda: day(browser) == paused + 1)
    run(browser, "map.querySelector('.things').focus()")
    sent_to_the_server(browser)
    active(browser).send_keys(Keys.ARROW_RIGHT, Keys.ARROW_RIGHT)
    name = run(
        browser,
        "const things = map.querySelector('.things'), active = things.getAttribute('aria-activedescendant');"
        "return things.querySelector(`#${active}`).textContent",
    )
    assert name == "collard plant 1 in collards"
    active(browser).send_keys(Keys.ENTER)
    wait_for(browser, lambda: "Collard plant 1 in collards" in words_on(browser), 30)
    assert "It has been here since" in words_on(browser)
    assert len(sent_to_the_server(browser)) == 1
    assert day(browser) == paused + 1  # the page ran again; the map stayed where it was
    assert run(browser, "return document.activeElement.shadowRoot.activeElement.className") == "things"


@pytest.mark.parametrize("use", ["screen", "paper"])
def test_the_day_in_hand_is_taken_as_a_picture_without_asking_the_server(browser, address, use):
    open_map(browser, address, LEAF)
    run(browser, "player.goTo(100); map.querySelector('.take').open = true")
    settled(browser)
    sent_to_the_server(browser)
    run(browser, "map.querySelector('.take-for').value = arguments[0]", use)
    encoded = run_and_wait(
        browser,
        """
        player.handOver = (blob, end) => {
          const reader = new FileReader();
          reader.onload = () => done([end, reader.result.split(",")[1]]);
          reader.readAsDataURL(blob);
        };
        map.querySelector(".take-picture").click();
        """,
    )
    assert encoded[0] == "png"
    picture = Image.open(io.BytesIO(base64.b64decode(encoded[1])))
    picture.load()
    words = picture.info["Description"]
    assert "Leaf bed (invented) · 1 season (seed 1) · model Leaf to Nest" in words
    assert run(browser, "return player.data.dates[100]") in words
    assert "pests on the plants" in words
    if use == "paper":
        assert picture.width == 2130  # half a page, 7.1 inches
        assert round(picture.info["dpi"][0]) == 300
    else:
        shown = run(browser, "return player.maps[0].ground.width")
        assert picture.width >= 2 * shown
    colours = picture.convert("RGB").resize((200, 200)).getcolors(40_000)
    assert len(colours) > 100  # a map is on it, not an empty sheet
    assert sent_to_the_server(browser) == []


def active(browser):
    return browser.execute_script(
        "let one = document.activeElement; while (one.shadowRoot) one = one.shadowRoot.activeElement; return one"
    )


def test_each_map_is_one_stop_for_the_tab_key(browser, address):
    open_map(browser, address, LEAF)
    stops = run(browser, "return [...map.querySelectorAll('.maps *')].filter((one) => one.tabIndex >= 0).length")
    assert stops == len(run(browser, "return player.maps.map((one) => one.film.plan)")) == 2


def test_a_click_on_a_nest_or_an_insect_opens_its_story(browser, address):
    open_map(browser, address, LEAF)
    for kind in ("nest", "insect"):
        name, opened, chosen = run(
            browser,
            """
            const one = player.maps[0], things = one.element.querySelector(".things");
            player.goTo(100);
            const box = things.getBoundingClientRect();
            const thing = one.things.find((it) => it.kind === arguments[0] && one.whereIs(it, 100));
            const [x, y] = one.whereIs(thing, 100);
            things.dispatchEvent(new MouseEvent("click", { clientX: box.left + x, clientY: box.top + y }));
            return [thing.name, one.active.name, map.querySelector(".whose").selectedOptions[0].text];
            """,
            kind,
        )
        assert opened == chosen == name
        wait_for(browser, lambda n=name: f"{n[:1].upper()}{n[1:]}" in words_on(browser), 30)
        assert not run(browser, "return map.querySelector('.legend').open")  # so that the story stands near the map


def test_who_asks_for_less_motion_gets_steps(browser, address):
    wanted = {"features": [{"name": "prefers-reduced-motion", "value": "reduce"}]}
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", wanted)
    try:
        open_map(browser, address, LEAF)
        assert part(browser, "calm").is_displayed()
        run(browser, "map.querySelector('.stop').checked = false; player.goTo(0)")
        press_play(browser)
        wait_for(browser, lambda: day(browser) >= 10, 30)
        press_play(browser)
        assert day(browser) % 5 == 0  # whole steps of five days
        assert run(browser, "return player.frames") == 0
    finally:
        browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": []})


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_axe_finds_nothing_while_a_question_is_asked(browser, address, theme):
    open_map(browser, address, f"{LEAF}&embed_options=dark_theme" if theme == "dark" else LEAF)
    run(browser, "player.goTo(player.data.stops[0].day - 1); player.goTo(player.day + 1, true)")
    assert violations(browser) == []


def test_words_on_the_map_stand_out(browser, address):
    """Contrast of the map's own colours by the formula of WCAG 2: letters on tags, in both rooms."""
    open_map(browser, address, LEAF)
    for room in ("LIGHT", "DARK"):
        ink, pill = run(browser, f"return player.colours('{room}')")
        assert contrast(ink, pill) >= 4.5


def contrast(one, other):
    def light(colour):
        parts = [int(part) / 255 for part in colour]
        red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    low, high = sorted((light(one), light(other)))
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("width", [320, 390])
def test_on_a_phone_the_maps_stand_one_above_the_other(browser, address, width):
    at_width(browser, width)
    open_map(browser, address, LEAF)
    tops, lefts = run(
        browser,
        "const boxes = player.maps.map((one) => one.element.getBoundingClientRect());"
        "return [boxes.map((box) => box.top), boxes.map((box) => box.left)]",
    )
    assert tops[1] > tops[0]
    assert lefts[0] == lefts[1]


def test_on_a_phone_a_question_comes_into_sight_before_the_map(browser, address):
    at_width(browser, 390, 844)
    open_map(browser, address, LEAF)
    top, bottom, stage = run(
        browser,
        """
        map.querySelector('.forth').scrollIntoView();
        player.goTo(player.data.stops[1].day, true);
        const [pause, stage] = ['.pause', '.stage'].map((name) => map.querySelector(name).getBoundingClientRect());
        return [pause.top, pause.bottom, stage.top];
        """,
    )
    assert 0 <= top < bottom <= stage
    assert bottom <= 844


def test_a_caught_bird_s_mark_is_like_no_other_without_colour(browser, address):
    open_map(browser, address, LEAF)
    least, beside = run(
        browser,
        """
        const seen = (...marks) => {
          const sheet = document.createElement("canvas"), c = sheet.getContext("2d"), x = player.line.x(10);
          [sheet.width, sheet.height] = [60, 80];
          c.translate(30 - x, 0);
          player.line.drawRow(c, { days: 0, events: marks.map((mark) => ({ mark, day: 10 })) }, 20);
          return c.getImageData(0, 0, 60, 80).data.filter((_, n) => n % 4 === 3).map((alpha) => alpha > 128);
        };
        const caught = seen("caught"), marks = Object.keys(player.data.words.marks).filter((one) => one !== "caught");
        const differ = (one, other) => one.filter((is, n) => is !== other[n]).length;
        const least = Math.min(...marks.map((one) => differ(seen(one), caught)));
        return [least, differ(seen("basket"), seen("basket", "caught"))];
        """,
    )
    assert least >= 40  # of the 400 points that a mark takes
    assert beside > 0  # where marks are crowded, this one is drawn all the same


def test_a_room_reads_numbers_where_names_would_hide_beds_and_can_open_the_legend(browser, address):
    at_width(browser, 1920, 1080)
    browser.get(f"{address}/watch?view=room")
    wait_for(browser, lambda: run(browser, "return !!map && map.dataset.ready === 'yes'"))
    beds, said, letters = run(
        browser,
        "const line = map.querySelector('.bed-numbers');"
        "return [player.data.ground.beds.map((one, n) => `${n + 1} ${one.name}`), line.innerText,"
        " parseFloat(getComputedStyle(line).fontSize)]",
    )
    assert said.replace("\u00a0", " ") == f"Beds: {' · '.join(beds)}"
    assert letters >= 46
    legend, controls = run(
        browser,
        "return ['.legend summary', '.controls'].map((name) => map.querySelector(name).getBoundingClientRect().bottom)",
    )
    assert legend > controls
    run(browser, "map.querySelector('.legend summary').click()")
    assert part(browser, "legend").find_element(By.CSS_SELECTOR, "li").is_displayed()


def test_a_plan_not_watched_yet_comes_onto_the_second_map(browser, address):
    open_map(browser, address, LEAF)
    button = part(browser, "unwatched").find_element(By.CSS_SELECTOR, "button")
    assert button.text.startswith("Not yet watched: Spray every week")
    browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", button)
    button.click()
    wait_for(browser, lambda: run(browser, "return player.maps[1].film.plan") == "spray_weekly", 60)
    assert part(browser, "unwatched").text == ""


def test_the_same_stands_in_words_below_the_map(browser, address):
    open_map(browser, address, LEAF)
    for canvas in run(
        browser, "return [...map.querySelectorAll('.maps canvas')].map((one) => one.getAttribute('aria-label'))"
    ):
        assert "seen from above" in canvas
    for expander in browser.find_elements(By.CSS_SELECTOR, "[data-testid=stExpander] summary")[:1]:
        expander.click()
    wait_for(browser, lambda: "Net on: every bed." in words_on(browser), 20)


def test_a_room_can_read_it_from_the_back(browser, address):
    at_width(browser, 1920, 1080)
    browser.get(f"{address}/watch{LEAF}&view=room")  # without a title: open_screen would wait for one
    wait_for(browser, lambda: run(browser, "return !!map && map.dataset.ready === 'yes'"))
    run(browser, "player.goTo(100)")
    low = run(
        browser,
        "const names = '.date, .weather, .map-title, .figures li.main, .figures .main b';"
        "return Math.min(...[...map.querySelectorAll(names)].map((one) => parseFloat(getComputedStyle(one).fontSize)))",
    )
    assert low >= 46
    assert run(browser, "return player.maps[0].letters") >= 46
    assert run(browser, "return player.line.thick") >= 4


def test_it_keeps_its_day_into_the_view_for_a_room_and_back(browser, address):
    open_map(browser, address, LEAF)
    run(browser, "player.goTo(75)")
    for words, is_room in (("Projector view", True), ("Leave the projector view", False)):
        press(browser, words)
        wait_for(browser, lambda now=is_room: run(browser, "return !!player && player.data.room > 0") is now)
        settled(browser)
        assert day(browser) == 75
    open_map(browser, address, LEAF)
    assert day(browser) == 0
