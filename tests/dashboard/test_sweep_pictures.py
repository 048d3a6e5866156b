"""What pictures of sweeps say and how: words that can be read in every size, for every kind of sweep."""

from datetime import date

import pytest
from matplotlib import rc_context
from matplotlib.text import Text

import sim.jobs
from dashboard.charts.imprint import Imprint
from dashboard.charts.printed.pictures import parts_of, sheet_of
from dashboard.charts.printed.shapes import HALF_PAGE, SHAPES, SLIDE, Style
from dashboard.charts.printed.sheet import settings_of
from dashboard.charts.printed.sweep_panels import shape_for
from dashboard.charts.sweep_picture import sweep_picture
from dashboard.commands.sweep_results import files_of_picture, picture_of
from dashboard.language.saying import MINUS
from dashboard.language.tongue import speaking
from dashboard.plans.setting_words import with_words
from sim.curve_words import point_in_words
from sim.scenario import load_scenario
from sim.scenario.model import Enemies
from sim.settings import setting_from
from sim.sweep import sweep
from tests.dashboard.test_sweep_command import LATE, InventedSeason


@pytest.fixture(autouse=True)
def seasons(monkeypatch):
    """Seasons with invented figures in the place of lived ones."""
    monkeypatch.setattr(sim.jobs, "_run_season", lambda: InventedSeason)
    monkeypatch.setattr(sim.jobs, "cores", lambda: 1)  # other processes would live seasons


@pytest.mark.parametrize(
    ("texts", "form", "files"),
    [
        ([f"{LATE}=0:20:3"], "lines", True),
        (["beds.kale.planted=03-20:04-20:3"], "lines", True),
        (["plans.net.actions.cover.material=veil,bird_net"], "rows", True),
        ([f"{LATE}=0:20:3", "pests.arrivals=0,1"], "maps", True),
        ([f"{LATE}=0:19:20", "place.warmer_c=-1:1:10"], "maps", True),
        ([f"{LATE}=0,1", "pests.arrivals=0,1", "place.warmer_c=0,1"], "rows", True),
        ([f"{LATE}=0:20:5", "pests.arrivals=0:2:5", "place.warmer_c=0,1"], "none", False),
    ],
)
def test_every_kind_of_sweep_has_its_picture(tmp_path, texts, form, files):
    garden = load_scenario("leaf_bed")
    settings = [with_words(setting_from(text), garden) for text in texts]
    found = sweep(garden, settings, ["nothing", "net"], seasons=2)
    measures = ["marketable_kg", "fruit_set_share"]
    picture = sweep_picture(found, measures, {"nothing": "Do nothing", "net": "Net it"}, "A garden")
    assert picture.form == form
    assert "Harvest fit to sell, Do nothing:" in picture.alt
    made = files_of_picture(found, garden, measures, "sweep", [Style(HALF_PAGE, True)], date(2026, 11, 25))
    assert "2 seasons (seeds 1 to 2)" in made["sweep.txt"].decode()  # the words stand beside it, drawn or not
    assert (len(made) > 1) == files
    if not files:
        return
    check_words_on_paper(picture)


@pytest.mark.parametrize(
    "texts", [["pests.arrivals=0:4:5"], ["plans.net.actions.cover.material=veil,bird_net"]], ids=["lines", "rows"]
)
def test_names_of_many_plans_below_take_no_room_from_the_panels(texts):
    garden = load_scenario("leaf_bed")
    settings = [with_words(setting_from(text), garden) for text in texts]
    plans = ["nothing", "net", "spray_weekly", "hand_picking"]
    found = sweep(garden, settings, plans, seasons=2)
    check_words_on_paper(picture_of(found, garden, ["marketable_kg", "pests_alive_peak_count", "fruit_set_share"]))


@pytest.mark.parametrize(
    ("text", "words", "last"),
    [
        ("beds.kale.length_m=0.48,24", "Kale: length of the bed, ft", "79"),
        ("beds.collards.repeat+beds.kale.repeat=1,16", "Collards and kale: how many such beds", "16"),
        (
            "numbers.crops.grades.leaf_limit_share=0.02,0.2",
            "Share of a leaf that may be missing when it is sold",
            "0.2",
        ),
    ],
)
def test_what_only_a_command_can_vary_has_words_too(text, words, last):
    with speaking("en", "us"):
        setting = with_words(setting_from(text), load_scenario("leaf_bed"))
        assert (setting.label, setting.say(setting.values[-1])) == (words, last)


def test_values_beside_each_other_say_what_they_are_of():
    enemies = "+".join(f"enemies.{name}" for name in Enemies.model_fields)
    bees = "bees.honey_bees+bees.bumble_bees+bees.small_bees"
    garden = load_scenario("teaching_garden")
    texts = ["birds.use_of_garden=1,0", f"{bees}=1,0", f"{enemies}=1,0", "place.warmer_c=-3,3"]
    found = sweep(garden, [with_words(setting_from(text), garden) for text in texts], ["nothing"], 1)
    points = [point_in_words(found, point) for point in found.comparisons]
    assert points[0] == "birds, bees, enemies, \N{MINUS SIGN}3 °C warmer"
    assert points[-1] == "no birds, no bees, no enemies, 3 °C warmer"
    part = with_words(setting_from("enemies.spiders=1,0"), garden)
    assert part.label == "enemies: spiders"  # not all enemies
    with speaking("es", "metric"):
        setting = with_words(setting_from(f"{bees}=1,2"), garden)
        assert (setting.label, dict(setting.beside_words)) == ("Abejas, veces lo normal", {})


def test_no_name_of_a_row_is_touched_by_a_mark_at_0():
    garden = load_scenario("leaf_bed")
    found = sweep(garden, [setting_from("plans.net.actions.cover.material=veil,bird_net")], ["net"], 1)
    picture = picture_of(found, garden, ["fruit_set_share"])
    picture.frame[["mean", "low", "high"]] = 0.0
    style = Style(HALF_PAGE)
    figure = sheet_of(picture, style, None).figure
    figure.draw_without_rendering()
    axes = figure.axes[0]
    names = [label.get_window_extent().x1 for label in axes.get_yticklabels()]
    marks = [line.get_markersize() for line in axes.get_lines() if line.get_marker() != "None"]
    edge = axes.transData.transform((0.0, 0.0))[0] - max(marks) / 2 / 72 * figure.dpi
    assert max(names) < edge


@pytest.mark.parametrize("is_grey", [False, True], ids=["colour", "grey"])
def test_on_a_map_what_is_too_close_to_call_stays_white(is_grey):
    garden = load_scenario("leaf_bed")
    found = sweep(garden, [setting_from(f"{LATE}=0,5"), setting_from("pests.arrivals=0,1")], ["nothing", "net"], 2)
    whole = picture_of(found, garden, ["marketable_kg"])
    rows = whole.frame["plan"] == "net"
    whole.frame.loc[rows, "difference"] = [0.1, 17.0, -30.0, 0.0]
    whole.frame.loc[rows, "is_open"] = [True, False, True, False]
    figure = sheet_of(whole, Style(shape_for(whole), is_grey), None).figure
    image = next(axes.images[0] for axes in figure.axes if "more (+)" in axes.get_title(loc="left").replace("\n", " "))
    colours = [tuple(colour) for colour in image.to_rgba(image.get_array()).reshape(-1, 4)]
    white = [not colour[3] or min(colour[:3]) == 1.0 for colour in colours]
    assert white == [True, False, True, False]
    assert {"+0.10 ?", "+17", f"{MINUS}30 ?", "0"} <= {text.get_text() for text in figure.findobj(Text)}
    assert image.norm.vmax < 30  # the scale is that of what can be told


def check_words_on_paper(picture):
    """Make sure that in every size all words can be read: inside the page, and apart."""
    imprint = Imprint("A garden", (1, 2), "0.1.0", date(2026, 11, 25))
    for shape in [*SHAPES.values(), shape_for(picture)]:
        style = Style(shape)
        for _name, part in parts_of(picture, style, imprint):
            with rc_context(settings_of(style)):
                figure = sheet_of(part, style, imprint).figure
                figure.draw_without_rendering()
            texts_drawn = [text for text in figure.findobj(Text) if text.get_text().strip() and is_shown(text)]
            sizes = {text.get_fontsize() for text in texts_drawn}
            assert min(sizes) >= (14 if shape is SLIDE else 9)
            boxes = [text.get_window_extent() for text in texts_drawn]
            assert all(box.x0 >= -1 and box.x1 <= figure.bbox.x1 + 1 for box in boxes)
            assert all(box.y0 >= -1 and box.y1 <= figure.bbox.y1 + 1 for box in boxes)
            over = [
                (one.get_text(), other.get_text())
                for place, one in enumerate(texts_drawn)
                for other, box in list(zip(texts_drawn, boxes, strict=True))[place + 1 :]
                if boxes[place].shrunk(0.96, 0.8).overlaps(box.shrunk(0.96, 0.8))
            ]
            assert over == []


def is_shown(text):
    return text.get_visible() and (text.axes is None or text.axes.get_visible())
