"""Comparisons with invented figures, to test what is made of them without running a season."""

import numpy as np

from dashboard.charts.sentences import FLEDGED
from dashboard.charts.summary import PANELS
from sim.comparison import Comparison

MEASURED = (*(lane.measure for panel in PANELS for lane in panel.lanes), FLEDGED)
TITLES = {"nothing": "Do nothing", "net": "Net it", "spray_weekly": "Spray every week by the calendar"}


def comparison(plans=tuple(TITLES), seasons=12, fledged=11.0):
    chance = np.random.default_rng(3)
    values = chance.gamma(8.0, 2.0, size=(len(plans), seasons, len(MEASURED)))
    values[:, :, MEASURED.index("egg_to_adult_share")] = chance.beta(2, 60, size=(len(plans), seasons))
    values[:, :, MEASURED.index("marketable_kg")] = values[:, :, MEASURED.index("harvest_kg")] / 2
    values[:, :, MEASURED.index(FLEDGED)] = fledged
    return Comparison(tuple(plans), tuple(range(1, seasons + 1)), MEASURED, values, scenario_name="invented")
