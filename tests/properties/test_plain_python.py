"""The compiled rules and the same rules run as plain Python live one and the same season."""

import os
import subprocess
import sys

from tests.strategies import bed, garden, live

PLANTED = "05-10"


def busy_garden():
    """Return a small garden in which every guild has something to do."""
    beds = (
        bed(length_m=1.0, planted=PLANTED),
        bed("cucumber", length_m=1.0, planted=PLANTED),
        bed("cabbage", length_m=1.0, planted=PLANTED, hosted_last_year=True),
    )
    work = [
        {"do": "cover", "beds": ["cabbage-bed"], "edges": "slack", "days_after_planting": 3},
        {"do": "spray", "product": "spinosad", "beds": ["collard-bed"], "every_days": 9},
        {"do": "weed", "every_days": 8},
        {"do": "hand_pick", "every_days": 9},
    ]
    return garden(
        *beds,
        plans={"work": work},
        season={"first_day": PLANTED, "last_day": "06-25", "calendar_year": 2025},
        pests={"arrivals": 0.3},
        birds={"nests": [{"kind": "wren_like", "distance_m": 8.0}]},
    )


def told(lived):
    """Return what the season's books say, down to single insects; floats without their last digits."""
    insects = lived.insects
    alive = insects.records[: insects.count]
    return repr(
        (
            insects.entries.tolist(),
            [
                (*tuple(map(int, row)), int(insects.exits[tuple(row)]))
                for row in zip(*insects.exits.nonzero(), strict=True)
            ],
            [(int(one["key"]), int(one["stage"]), int(one["plant"]), int(one["place"])) for one in alive],
            [f"{value:.9g}" for value in lived.chronicle.rows[-1]],
        )
    )


def test_with_and_without_compilation_the_season_is_the_same():
    script = "from tests.properties.test_plain_python import *; import numpy; numpy.seterr(over='ignore')\n"
    script += "print(told(live(busy_garden(), 'work', 3)))"
    plain = subprocess.run(
        [sys.executable, "-c", script],
        env=os.environ | {"NUMBA_DISABLE_JIT": "1", "PYTHONPATH": os.pathsep.join(sys.path)},
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )
    compiled = live(busy_garden(), "work", 3)
    assert compiled.insects.entries.sum() > 100
    assert plain.stdout.strip() == told(compiled)
