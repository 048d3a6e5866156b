"""Write into the model's description what is counted and not told: ``python -m tests.house.describe --write``.

Without ``--write`` it prints the same, and which rows of parameters have a place for each crop, species and so on.
"""

import re
import sys
from collections import Counter

import sim.garden
from sim.cast import GENERALISTS, Crop, Predator, Product, Species, Visitor, word
from sim.parameters import load_parameters
from sim.parameters.table import EVIDENCE
from tests.house.files import ROOT

ENEMIES = list(Predator)[:GENERALISTS]
MODEL = ROOT / "sim" / "MODEL.md"
LEAST_CERTAIN = {
    "how much of a leaf may be missing for it to be sold": ["crops.grades.leaf_limit_share"],
    "how many tries find a way under a net's edge": ["nets.edge_leak_share"],
    "how much leaf a caterpillar eats in its life": [
        "moths.cabbage_white.leaf_total_cm2",
        "moths.cabbage_looper.leaf_total_cm2",
        "moths.diamondback_moth.leaf_total_cm2",
    ],
    "how much more birds use a garden than their territory": [
        "birds.tit_like.use_of_garden",
        "birds.wren_like.use_of_garden",
        "birds.woodpecker_like.use_of_garden",
    ],
    "how many moths that a net turned away try bare plants, wild ones among them": [
        "moths.cabbage_white.try_bare_share",
        "moths.cabbage_looper.try_bare_share",
        "moths.diamondback_moth.try_bare_share",
    ],
    "how many eggs a moth lays that is shut in with the crop": [
        "moths.cabbage_white.shut_in_egg_share",
        "moths.cabbage_looper.shut_in_egg_share",
        "moths.diamondback_moth.shut_in_egg_share",
    ],
}
"""The numbers that move results most and of which least is known, in words and by key."""


def order_of_the_day():
    """Return the steps of a day as the garden's own file numbers them."""
    return re.findall(r"^\d+\. .*[;.]$", sim.garden.__doc__, re.MULTILINE)


def least_certain():
    """Return a table of the least certain numbers."""
    rows = ["| What | Key | Value | Range | Unit | Evidence |", "|---|---|---|---|---|---|"]
    for words, keys in LEAST_CERTAIN.items():
        for key in keys:
            entry = load_parameters()[key]
            value, low, high = map(_said, (entry.value, entry.low, entry.high))
            rows.append(f"| {words} | `{key}` | {value} | {low} to {high} | {entry.unit} | {entry.evidence} |")
    return rows


def counts():
    """Return a table of how many parameters each file holds, by kind of evidence."""
    by_file = {}
    for key, entry in load_parameters().items():
        by_file.setdefault(key.split(".")[0], Counter())[entry.evidence] += 1
    rows = [f"| File | {' | '.join(EVIDENCE)} | together |", "|---|" + "---:|" * (len(EVIDENCE) + 1)]
    by_file["together"] = sum(by_file.values(), Counter())
    for name, counted in by_file.items():
        shown = name if name == "together" else f"`{name}.toml`"
        numbers = [*(counted[kind] for kind in EVIDENCE), counted.total()]
        rows.append(f"| {shown} | {' | '.join(map(str, numbers))} |")
    together = by_file["together"]
    unread = 100 * (together["memory"] + together["common practice"]) / together.total()
    return [
        *rows,
        "",
        f"So {unread:.0f} of 100 entries rest on memory or common practice: a good place to begin.",
    ]


GENERATED = {"day": order_of_the_day, "uncertain": least_certain, "counts": counts}


def written_in(text, name):
    """Return the lines between a part's two marks."""
    return re.search(rf"<!-- {name}: begin -->\n(.*?)<!-- {name}: end -->", text, re.DOTALL)[1].splitlines()


def rewritten(text):
    """Return the description with every generated part renewed."""
    for name, generate in GENERATED.items():
        begin, end = f"<!-- {name}: begin -->\n", f"<!-- {name}: end -->"
        before, rest = text.split(begin)
        text = before + begin + "".join(f"{line}\n" for line in generate()) + end + rest.split(end, 1)[1]
    return text


def rows_by_axis():
    """Return the keys of rows that have a place for each crop, species, visitor, enemy or product."""
    axes = {"crop": Crop, "species": Species, "visitor": Visitor, "enemy": ENEMIES, "product": Product}
    held = {name: [] for name in axes}
    for key, entry in load_parameters().items():
        for name, members in axes.items():
            is_so_long = isinstance(entry.value, tuple) and len(entry.value) == len(members)
            if is_so_long and entry.axis in ((), tuple(word(member) for member in members)):
                held[name].append(key)
    return held


def _said(number):
    return " / ".join(f"{one:g}" for one in number) if isinstance(number, tuple) else f"{number:g}"


if __name__ == "__main__":
    if "--write" in sys.argv:
        MODEL.write_text(rewritten(MODEL.read_text(encoding="utf-8")), encoding="utf-8")
    else:
        for generate in GENERATED.values():
            print(*generate(), "", sep="\n")
        for axis, keys in rows_by_axis().items():
            print(f"Rows with a place for each {axis}:", *keys, "", sep="\n  ")
