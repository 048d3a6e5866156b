"""Files as a visitor might bring them."""

from datetime import date, timedelta


def weather_csv(first=date(2023, 1, 1), days=365, header="date,tmin_c,tmax_c,rain_mm"):
    rows = [
        f"{first + timedelta(days=n)},{8.0 + n % 9:.1f},{19.0 + n % 11:.1f},{(n % 5 == 0) * 4.5}" for n in range(days)
    ]
    return "\n".join([header, *rows]).encode() + b"\n"


def scenario_toml(name="leaf_bed", replaced=None):
    from importlib.resources import files

    text = (files("scenarios") / f"{name}.toml").read_text(encoding="utf-8")
    for old, new in (replaced or {}).items():
        assert old in text
        text = text.replace(old, new, 1)
    return text.encode()
