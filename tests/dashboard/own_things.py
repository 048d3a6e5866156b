"""Files as a visitor might bring them."""

from datetime import date, timedelta

SUMMER = (6, 7, 8)
"""A little warmer, as in the northern half of the earth."""


def weather_csv(first=date(2023, 1, 1), days=365, header="date,tmin_c,tmax_c,rain_mm"):
    rows = []
    for n in range(days):
        day = first + timedelta(days=n)
        warmer = day.month in SUMMER
        rows.append(f"{day},{8.0 + n % 9 + warmer:.1f},{19.0 + n % 11 + warmer:.1f},{(n % 5 == 0) * 4.5}")
    return "\n".join([header, *rows]).encode() + b"\n"


def scenario_toml(name="leaf_bed", replaced=None):
    from importlib.resources import files

    text = (files("scenarios") / f"{name}.toml").read_text(encoding="utf-8")
    for old, new in (replaced or {}).items():
        assert old in text
        text = text.replace(old, new, 1)
    return text.encode()
