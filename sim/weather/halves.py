"""Which half of the earth a year's warmth is of: a file from the south, moved north by a lost minus sign, is refused.

Takes    weather.
Keeps    nothing.
Changes  nothing.
"""

from __future__ import annotations

import numpy as np

from sim.compiled import Floats
from sim.errors import WeatherError, tell
from sim.weather.days import Weather

_JANUARY, _JULY = 1, 7


def check_half(weather: Weather) -> None:
    """Refuse days whose January is warmer than their July: between tropic and polar circle no northern place has that.

    Days that hold no January or no July are taken as they are.

    Raises
    ------
    WeatherError
        If the warmth of the year is turned round.
    """
    dates = np.datetime64(weather.first_date, "D") + np.arange(len(weather))
    month = dates.astype("M8[M]").astype(np.int64) % 12 + 1
    january_c, july_c = (_mean_c(weather, month == one) for one in (_JANUARY, _JULY))
    if january_c > july_c:  # a month without days is no number, and compares as false
        raise WeatherError(
            tell(
                "The weather ({origin}) has a January of {january:.1f} °C and a July of {july:.1f} °C, as in the "
                "southern half of the earth; a place whose July is the warmer one is allowed.",
                origin=weather.origin,
                january=january_c,
                july=july_c,
            )
        )


def _mean_c(weather: Weather, chosen: Floats) -> float:
    days = weather.days[chosen]
    return float((days["tmin_c"] + days["tmax_c"]).mean()) / 2.0 if len(days) else float("nan")
