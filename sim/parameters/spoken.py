"""Names of parameters in words: what they tell, without the unit that stands beside them anyway."""

from __future__ import annotations

import re

_UNIT_AT_END = re.compile(r"_(?:g_mj|mj_m2|cm2_g|g_cm3|per_cm2|per_m2|cm2|m2|m_s|mm|mg|cm|kj_per_g|g|kg|h|m|usd)$")
_TEMPERATURE, _WARMTH = re.compile(r"(?<!_below)(?<!_above)_c$"), re.compile(r"_dd$")


def name_in_words(name: str) -> str:
    """Return one part of a key in words: ``base_c`` is a base temperature, ``harvest_dd`` the harvest's warmth."""
    told = _TEMPERATURE.sub("_temperature", name)
    told = _WARMTH.sub("_warmth", told)
    told = _UNIT_AT_END.sub("", told)
    return re.sub(r"_c$", "", told).replace("_", " ")


def key_in_words(key: str) -> str:
    """Return a dotted key in words, without its file where it has a table: ``cabbage white: leaf total``."""
    *table, name = key.split(".")[1:] if key.count(".") > 1 else key.split(".")
    return f"{' '.join(table).replace('_', ' ')}: {name_in_words(name)}"
