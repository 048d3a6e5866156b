"""Pictures on paper: every kind in every size, in colour and for a grey copier, can be read and is read aloud."""

import ast
import io
import math
import re
import zipfile
from dataclasses import replace
from importlib.resources import files
from pathlib import Path

import numpy as np
import pytest
from matplotlib import rc_context
from matplotlib.image import imread
from matplotlib.text import Text

from dashboard.charts.calendar_picture import ALL_PLANS, calendar_scene
from dashboard.charts.ends_picture import ends_scene
from dashboard.charts.energy_picture import DISCS, energy_scene
from dashboard.charts.imprint import Imprint, garden_words
from dashboard.charts.palette import PAPER, contrast
from dashboard.charts.printed.ends_bars import _few_in_one_row
from dashboard.charts.printed.pictures import DRAWERS, parts_of, picture_file, picture_files, sheet_of
from dashboard.charts.printed.shapes import FULL_PAGE, GREYS, HALF_PAGE, SHAPES, SLIDE, Style
from dashboard.charts.printed.sheet import settings_of
from dashboard.charts.seasons_picture import seasons_scene
from dashboard.handout.pictures import HALF_WIDTH
from dashboard.language.tongue import LANGUAGES, speaking
from dashboard.lesson.lesson import MOST_PLANS
from dashboard.page.taking import Taken
from dashboard.seasons.ends import GREW_UP, GROUPS
from sim.scenario import load_scenario
from tests.dashboard import invented_scenes
from tests.dashboard.invented import TITLES, comparison
from tests.dashboard.invented_scenes import SELL, UNEVEN, curve_of, scenes_of, season_days
from tests.dashboard.reading import fonts_of, tags_of, words_of

IMPRINT = Imprint("An invented garden", range(1, 13), "0.1.0")
STYLES = [Style(shape) for shape in SHAPES.values()]
MANY = {f"plan{number}": f"Plan number {number}: net, then look and pick" for number in range(1, 13)}
LONG = "Malla de la siembra a la última cosecha"
# Axes to draw on are made for a lesson sheet alone, and tested there.
NAMES = list(scenes_of(TITLES))


@pytest.fixture(scope="module")
def scenes():
    return scenes_of(TITLES)


def drawn(scene, style, imprint=IMPRINT):
    with rc_context(settings_of(style)):
        figure = sheet_of(scene, style, imprint).figure
        figure.draw_without_rendering()
    return figure


def texts_of(figure):
    return [
        text
        for text in figure.findobj(Text)
        if text.get_text().strip() and text.get_visible() and (text.axes is None or text.axes.get_visible())
    ]


def test_every_picture_function_has_its_drawing_on_paper(scenes):
    """Whoever adds a picture adds it to ``scenes_of``, and so to every test here."""
    charts = files("dashboard.charts")
    functions = {
        node.name
        for file in charts.iterdir()
        if file.name.endswith("_picture.py") or file.name == "summary.py"
        for node in ast.parse(file.read_text(encoding="utf-8")).body
        if isinstance(node, ast.FunctionDef) and node.name.endswith(("_scene", "_picture"))
    }
    tree = ast.parse(Path(invented_scenes.__file__).read_text(encoding="utf-8"))
    called = {node.func.id for node in ast.walk(tree) if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)}
    assert len(functions) > 10
    assert functions - called == {"sweep_picture"}  # in test_sweep_command.py


def test_every_kind_of_scene_has_its_drawer_and_its_test(scenes):
    assert {kind for kind in DRAWERS if kind != "empty" and not kind.startswith("sweep_")} == {
        scene.kind for scene in scenes.values()
    }


def check_words_stand_apart(figure, style):
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


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.shape.name)
@pytest.mark.parametrize("titles", [TITLES, MANY], ids=["three plans", "twelve plans"])
@pytest.mark.parametrize("kind", NAMES)
def test_letters_are_large_enough_inside_the_page_and_apart(kind, titles, style):
    if kind == "guess":
        titles = dict(list(titles.items())[:MOST_PLANS])
    for _, part in parts_of(scenes_of(titles)[kind], style, IMPRINT):
        check_words_stand_apart(drawn(part, style), style)


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.shape.name)
@pytest.mark.parametrize("language", LANGUAGES)
def test_long_names_of_ends_and_plans_stand_apart_and_whole(language, style):
    """Spanish names are longer: three plans with every end once lay on each other, on a slide."""
    titles = dict(
        zip(TITLES, ("No hacer nada contra las plagas", LONG, "Rociar cada semana por calendario"), strict=True)
    )
    counts = (360, 228, 84, 19, 245, 0, 142, 28, 23, 2, 4, 0)
    ends = {plan: {**dict(zip(GROUPS, counts, strict=True)), GREW_UP: 111} for plan in titles}
    with speaking(language, "metric"):
        scene = ends_scene(ends, titles, "all plant-eaters")
        figure = drawn(scene, style)
    check_words_stand_apart(figure, style)
    said = [text.get_text().replace("\n", " ") for text in texts_of(figure)]
    assert {LONG, scene.frame["fate"].iloc[-1]} <= set(said)


@pytest.mark.parametrize("times", [1, 50, 500, 5000])
def test_names_stand_apart_beside_figures_of_any_width(times):
    """A large garden's axis has figures of five places, which push the columns of a handout's picture together."""
    titles = dict(
        zip(TITLES, ("No hacer nada contra las plagas", LONG, "Rociar cada semana por calendario"), strict=True)
    )
    seasons = comparison().seasons.assign(value=lambda rows: rows["value"] * times)
    style = Style(HALF_WIDTH)
    scene = replace(seasons_scene(seasons, titles, SELL), caption="")  # as it stands in a handout, without a foot
    check_words_stand_apart(drawn(scene, style, None), style)


def test_those_that_grew_up_never_share_a_row_with_rarer_ends(scenes):
    few = scenes["ends"].frame
    few["count"] = 1.0
    kept = _few_in_one_row(few, 300.0)
    assert list(dict.fromkeys(kept["fate"])) == [f"{few['fate'].nunique() - 1} rarer ends", GREW_UP]
    assert kept["count"].sum() == few["count"].sum()


@pytest.mark.parametrize("shape", [SLIDE, HALF_PAGE], ids=lambda shape: shape.name)
@pytest.mark.parametrize("language", LANGUAGES)
def test_discs_of_energy_are_seen_and_arrows_begin_beside_words(language, shape):
    kilojoules = {disc.measure: 20.0 for disc in DISCS if disc.measure != "hedgerow_to_nestlings_kj"}
    kilojoules |= {"territory_to_nestlings_kj": 6597.0, "eaten_by_insects_kj": 3075.0, "insects_grown_kj": 928.0}
    with speaking(language, "metric"):
        figure = drawn(energy_scene({"net": kilojoules}, {"net": "Net"}), Style(shape))
    axes = figure.axes[0]
    largest = max(float(discs.get_sizes()[0]) for discs in axes.collections)
    assert 2 * math.sqrt(largest / math.pi) > 2 * shape.text_points
    begun = [axes.transData.transform(text.xyann) for text in axes.texts if text.arrow_patch]
    assert len(begun) == sum(len(disc.eaters) for disc in DISCS)
    for words in texts_of(figure):
        assert not [point for point in begun if words.get_window_extent().shrunk(0.98, 0.98).contains(*point)], words


@pytest.mark.parametrize("kind", NAMES)
def test_words_of_a_slide_are_of_24_points(scenes, kind):
    for _, part in parts_of(scenes[kind], Style(SLIDE), IMPRINT):
        sizes = [text.get_fontsize() for text in texts_of(drawn(part, Style(SLIDE)))]
        assert sizes.count(14) == 1  # the line at the foot
        assert sizes.count(18) <= 1  # the caption
        assert all(size >= 24 for size in sizes if size not in (14, 18))
    assert SLIDE.width_inches / SLIDE.height_inches == pytest.approx(16 / 9)


@pytest.mark.parametrize("kind", NAMES)
def test_a_grey_picture_has_no_colour_and_a_colour_picture_has(scenes, kind):
    scene = parts_of(scenes[kind], Style(HALF_PAGE), IMPRINT)[-1][1]
    for is_grey in (True, False):
        dots = imread(io.BytesIO(picture_file(scene, "screen.png", Style(HALF_PAGE, is_grey), IMPRINT)))[..., :3]
        assert (np.ptp(dots, axis=2).max() < 0.02) == is_grey


def test_greys_pass_three_to_one_on_white():
    assert all(contrast(grey, PAPER) >= 3 for grey in GREYS)


@pytest.mark.parametrize("kind", NAMES)
def test_every_form_says_what_it_shows_and_is_the_same_each_time(scenes, kind):
    scene, style = parts_of(scenes[kind], Style(HALF_PAGE), IMPRINT)[0][1], Style(HALF_PAGE)
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
    assert set(names) == {f"energy_{plan}_half_page_grey.svg" for plan in TITLES} | {"energy.txt"}


def test_the_foot_says_where_it_comes_from(scenes):
    said = " ".join(text.get_text() for text in texts_of(drawn(scenes["seasons"], Style(HALF_PAGE))))
    assert IMPRINT.line() in said.replace("\n", " ")


@pytest.mark.parametrize(("language", "said"), [("en", "Leaf bed (invented)"), ("es", "Cama de hojas (inventada)")])
def test_only_a_garden_of_ours_is_called_invented_at_the_foot(language, said):
    ours = load_scenario("leaf_bed")
    with speaking(language, "metric"):
        assert garden_words(ours.with_changes({"pests.arrivals": 2})) == said
        own = ours.model_copy(update={"title": "Garden at Elm Street"})  # a copy of our file, made one's own
        assert garden_words(own) == own.title
        assert garden_words(ours.model_copy(update={"name": "elm_street"})) == said.split(" (")[0]


def test_a_picture_alone_says_that_nothing_was_measured(scenes):
    for kind in scenes:
        assert "not measured" in picture_file(scenes[kind], "txt", Style(HALF_PAGE), IMPRINT).decode()


def test_plans_that_do_not_fit_are_counted_in_the_caption():
    said = " ".join(text.get_text() for text in texts_of(drawn(scenes_of(MANY)["ends"], Style(HALF_PAGE))))
    assert "the first 4 of 12 plans" in said.replace("\n", " ")


def test_letters_without_a_shape_and_a_very_long_name_are_still_a_page():
    titles = {"nothing": "Nothing 中🐛", "net": "Donaudampfschifffahrtsgesellschaftskapitän " * 5}
    for scene in scenes_of(titles).values():
        for style in (Style(HALF_PAGE), Style(SLIDE)):
            for _, part in parts_of(scene, style, IMPRINT):
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


@pytest.mark.parametrize("style", STYLES, ids=lambda style: style.shape.name)
@pytest.mark.parametrize(
    ("places", "said"),
    [
        (UNEVEN, None),
        ((0.0, 1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 64.0, 128.0), None),
        (tuple(float(day) for day in range(0, 70, 7)), [f"September {day}" for day in range(10, 20)]),
        ((0.0, 1.0, 2.0), ["by the calendar, every week", "when the scout finds enough of them", "never"]),
        ((0.0, 0.1), None),
        ((3.0,), None),
    ],
    ids=["crowded low", "doubling", "many dates", "words", "two", "one"],
)
def test_values_along_the_foot_never_run_into_each_other_however_they_lie(places, said, style):
    figure = drawn(curve_of(places, said), style)
    axis = figure.axes[0].xaxis
    ticks = [*axis.get_major_ticks(), *axis.get_minor_ticks()]
    shown = [tick.label1 for tick in ticks if tick.label1.get_text()]
    assert {round(tick.get_loc(), 9) for tick in ticks} == {round(place, 9) for place in places}  # a mark for each
    said = said or [f"{place:g}" for place in places]
    assert {said[0], said[-1]} <= {text.get_text().replace("\n", " ") for text in shown}
    boxes = [text.get_window_extent() for text in shown]
    assert [place for place, box in enumerate(boxes) if any(box.overlaps(other) for other in boxes[place + 1 :])] == []


@pytest.mark.parametrize("size", SHAPES)
def test_what_is_taken_holds_every_plan(scenes, size):
    taken = Taken(scenes["energy"], "energy", "svg", size, True, "A garden", (1, 2))
    if taken.parts == 1:
        texts = [taken.content().decode()]
        assert taken.file_name == "energy.svg"
    else:
        with zipfile.ZipFile(io.BytesIO(taken.content())) as opened:
            texts = [opened.read(name).decode() for name in opened.namelist() if name.endswith(".svg")]
            assert "energy.txt" in opened.namelist()
        assert taken.file_name == "energy.zip"
        assert len(texts) == taken.parts
    assert all(any(title.split()[0] in text for text in texts) for title in TITLES.values())
    assert not any("Drawn here: the first" in text for text in texts)
