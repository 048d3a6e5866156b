"""Pictures on paper: every kind in every size, in colour and for a grey copier, can be read and is read aloud."""

import io
import re
from datetime import date

import numpy as np
import pandas as pd
import pytest
from matplotlib import rc_context
from matplotlib.image import imread
from matplotlib.text import Text

from dashboard.caring import Way
from dashboard.charts.calendar_picture import ALL_PLANS, calendar_scene
from dashboard.charts.caring_picture import caring_scene
from dashboard.charts.days_picture import days_scene
from dashboard.charts.ends_picture import ends_scene
from dashboard.charts.energy_picture import DISCS, energy_scene
from dashboard.charts.guess_picture import guess_scene
from dashboard.charts.imprint import Imprint
from dashboard.charts.palette import contrast_on_white
from dashboard.charts.printed.pictures import DRAWERS, parts_of, picture_file, picture_files, sheet_of
from dashboard.charts.printed.shapes import FULL_PAGE, GREYS, HALF_PAGE, SHAPES, SLIDE, Style
from dashboard.charts.printed.sheet import settings_of
from dashboard.charts.seasons_picture import seasons_scene
from dashboard.charts.summary import summary_picture
from dashboard.daily import PLACE
from dashboard.ends import GREW_UP, GROUPS
from dashboard.lesson import MOST_PLANS
from dashboard.spoken import BY_MEASURE
from tests.dashboard.invented import TITLES, comparison
from tests.dashboard.reading import fonts_of, tags_of, words_of

SELL = BY_MEASURE["marketable_kg"]
IMPRINT = Imprint("An invented garden", range(1, 13), "0.1.0")
STYLES = [Style(shape) for shape in SHAPES.values()]
MANY = {f"plan{number}": f"Plan number {number}: net, then look and pick" for number in range(1, 13)}
# Axes to draw on are made for a lesson sheet alone, and tested there.
KINDS = [kind for kind in DRAWERS if kind != "empty"]


def season_days(plan, covered=3.0, sprays=7):
    day = np.arange(200)
    return pd.DataFrame(
        {
            "date": pd.date_range("2025-03-01", periods=200).strftime("%Y-%m-%d"),
            "covered_beds": np.where((day > 30) & (day < 150), covered, 0.0) * (plan != "nothing"),
            "beds_sprayed": np.where(day % sprays == 0, 2.0, 0.0) * (plan == "spray_weekly"),
            "harvest_kg": np.where((day > 60) & (day % 3 == 0), 1.0, 0.0),
            "nestlings": np.where((day > 60) & (day < 90), 5.0, 0.0),
        }
    )


def ways_of(titles):
    first, *_others, last = titles
    shares = {plan: place / (len(titles) - 1) for place, plan in enumerate(titles)}
    other = {plan: 1 - share for plan, share in shares.items()}
    return [
        Way("marketable_kg", (first, 3.0), (last, 9.0), shares, is_open=False),
        Way("bird_food_reachable_g", (last, 1.0), (first, 4.0), other, is_open=False),
    ]


def days_of(titles):
    wave = np.abs(np.sin(np.arange(200) / 40))[None, :, None] * np.ones((12, 1, len(PLACE)))
    return {plan: wave * (place + 1) for place, plan in enumerate(titles)}


def scenes_of(titles):
    seasons = comparison(plans=tuple(titles)).seasons
    fates = [*GROUPS, GREW_UP]
    ends = {plan: {fate: 1000 / len(fates) for fate in fates} for plan in titles}
    energy = {plan: {disc.measure: 100.0 * (place + 1) for place, disc in enumerate(DISCS)} for plan in titles}
    places = list(range(1, len(titles) + 1))
    return {
        "seasons": seasons_scene(seasons, titles, SELL),
        "ends": ends_scene(ends, titles, "all plant-eaters"),
        "energy": energy_scene(energy, titles),
        "guess": guess_scene(SELL, titles, places, [float(place) for place in places], 1),
        "summary": summary_picture(seasons, titles, "An invented garden"),
        "caring": caring_scene(ways_of(titles), {"marketable_kg": 2}, titles),
        "days": days_scene(days_of(titles), next(iter(PLACE)), titles, date(2025, 3, 1)),
        "calendar": calendar_scene({plan: season_days(plan) for plan in titles}, titles, 1),
    }


@pytest.fixture(scope="module")
def scenes():
    return scenes_of(TITLES)


def drawn(scene, style):
    with rc_context(settings_of(style)):
        figure = sheet_of(scene, style, IMPRINT).figure
        figure.draw_without_rendering()
    return figure


def texts_of(figure):
    return [
        text
        for text in figure.findobj(Text)
        if text.get_text().strip() and text.get_visible() and (text.axes is None or text.axes.get_visible())
    ]


def test_every_kind_of_scene_has_its_drawer_and_its_test(scenes):
    assert set(KINDS) == {scene.kind for scene in scenes.values()}


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.shape.name)
@pytest.mark.parametrize("titles", [TITLES, MANY], ids=["three plans", "twelve plans"])
@pytest.mark.parametrize("kind", KINDS)
def test_letters_are_large_enough_inside_the_page_and_apart(kind, titles, style):
    if kind == "guess":
        titles = dict(list(titles.items())[:MOST_PLANS])
    for _, part in parts_of(scenes_of(titles)[kind], style):
        figure = drawn(part, style)
        page = figure.bbox
        boxes = []
        for text in texts_of(figure):
            box = text.get_window_extent()
            assert text.get_fontsize() >= (14 if style.shape is SLIDE else 9)
            assert box.x0 >= page.x0 - 1, text
            assert box.x1 <= page.x1 + 1, text
            assert box.y0 >= page.y0 - 1, text
            assert box.y1 <= page.y1 + 1, text
            boxes.append((text.get_text(), box.shrunk(0.96, 0.8)))
        for place, (words, box) in enumerate(boxes):
            over = [other for other, at in boxes[place + 1 :] if box.overlaps(at)]
            assert not over, (words, over)


@pytest.mark.parametrize("kind", KINDS)
def test_words_of_a_slide_are_of_24_points(scenes, kind):
    for _, part in parts_of(scenes[kind], Style(SLIDE)):
        sizes = [text.get_fontsize() for text in texts_of(drawn(part, Style(SLIDE)))]
        assert sizes.count(14) == 1  # the line at the foot
        assert sizes.count(18) <= 1  # the caption
        assert all(size >= 24 for size in sizes if size not in (14, 18))
    assert SLIDE.width_inches / SLIDE.height_inches == pytest.approx(16 / 9)


@pytest.mark.parametrize("kind", KINDS)
def test_a_grey_picture_has_no_colour_and_a_colour_picture_has(scenes, kind):
    scene = parts_of(scenes[kind], Style(HALF_PAGE))[-1][1]
    for is_grey in (True, False):
        dots = imread(io.BytesIO(picture_file(scene, "screen.png", Style(HALF_PAGE, is_grey), IMPRINT)))[..., :3]
        assert (np.ptp(dots, axis=2).max() < 0.02) == is_grey


def test_greys_pass_three_to_one_on_white():
    assert all(contrast_on_white(grey) >= 3 for grey in GREYS)


@pytest.mark.parametrize("kind", KINDS)
def test_every_form_says_what_it_shows_and_is_the_same_each_time(scenes, kind):
    scene, style = parts_of(scenes[kind], Style(HALF_PAGE))[0][1], Style(HALF_PAGE)
    files = {form: picture_file(scene, form, style, IMPRINT) for form in ("svg", "pdf", "txt")}
    assert files == {form: picture_file(scene, form, style, IMPRINT) for form in files}
    svg = files["svg"].decode()
    assert 'role="img"' in svg
    assert "<desc>" in svg
    assert "DejaVu Sans" in svg
    assert len(re.findall("<text ", svg)) > 5
    assert [tag.alt for tag in tags_of(files["pdf"]) if tag.kind == "Figure"] == [scene.alt]
    assert set(fonts_of(files["pdf"])) <= {"DejaVuSans", "DejaVuSans-Bold"}
    assert "12 seasons (seeds 1 to 12)" in " ".join(words_of(files["pdf"]).split())
    assert scene.alt in files["txt"].decode()


def test_png_comes_for_print_and_for_a_screen(scenes):
    for form, dots in (("png", 300), ("screen.png", FULL_PAGE.screen_dots_per_inch)):
        tall, wide = imread(io.BytesIO(picture_file(scenes["guess"], form, Style(FULL_PAGE), IMPRINT))).shape[:2]
        assert wide == int(FULL_PAGE.width_inches * dots)
        assert tall == int(FULL_PAGE.height_inches * dots)


def test_names_of_files_tell_what_they_are(scenes):
    names = picture_files(scenes["energy"], "energy", [Style(HALF_PAGE, True)], IMPRINT, ["svg", "txt"])
    assert set(names) == {f"energy_{part}_half_page_grey.svg" for part in (1, 2)} | {"energy.txt"}


def test_the_foot_says_where_it_comes_from(scenes):
    said = " ".join(text.get_text() for text in texts_of(drawn(scenes["seasons"], Style(HALF_PAGE))))
    assert IMPRINT.line() in said.replace("\n", " ")


def test_plans_that_do_not_fit_are_counted_in_the_caption():
    said = " ".join(text.get_text() for text in texts_of(drawn(scenes_of(MANY)["ends"], Style(HALF_PAGE))))
    assert "the first 4 of 12 plans" in said.replace("\n", " ")


def test_letters_without_a_shape_and_a_very_long_name_are_still_a_page():
    titles = {"nothing": "Nothing 中🐛", "net": "Donaudampfschifffahrtsgesellschaftskapitän " * 5}
    for scene in scenes_of(titles).values():
        for style in (Style(HALF_PAGE), Style(SLIDE)):
            for _, part in parts_of(scene, style):
                figure = drawn(part, style)
                assert all(text.get_window_extent().x1 <= figure.bbox.x1 + 1 for text in texts_of(figure))


def test_a_plan_without_harvest_and_a_measure_without_figures_are_drawn_and_said():
    seasons = comparison().seasons
    zero = seasons.assign(value=seasons["value"].where(seasons["plan"] != "net", 0.0))
    texts = [text.get_text() for text in texts_of(drawn(seasons_scene(zero, TITLES, SELL), Style(HALF_PAGE)))]
    assert "0" in texts
    none = seasons[seasons["measure"] != SELL.measure]
    texts = [text.get_text() for text in texts_of(drawn(seasons_scene(none, TITLES, SELL), Style(HALF_PAGE)))]
    assert texts.count("none") == len(TITLES)


def test_the_calendar_says_days_and_shares_what_all_plans_share(scenes):
    scene = scenes["calendar"]
    assert "under the net on 119 days from April 1 to July 28" in scene.alt
    assert list(scene.frame[scene.frame["words"] == "young in nests"]["plan"]) == [ALL_PLANS]
    differing = {"nothing": season_days("nothing"), "net": season_days("net").assign(nestlings=0.0)}
    own = calendar_scene(differing, {"nothing": "Nothing", "net": "Net"}, 1).frame
    assert list(own[own["words"] == "young in nests"]["plan"]) == ["nothing"]
