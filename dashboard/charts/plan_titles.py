"""Plans by their titles, each with the look that it has on every picture of its garden."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from dashboard.charts.palette import LOOKS


class PlanTitles(dict[str, str]):
    """Slug → title of the plans that are shown, in the order shown; the numbers of their looks go with them.

    Parameters
    ----------
    titles
        Slug → title.
    of_garden
        Slugs of all plans of the garden, in its order: a plan's place there sets its look.
    """

    def __init__(self, titles: Mapping[str, str], of_garden: Sequence[str]) -> None:
        super().__init__(titles)
        self.looks = look_numbers(list(titles), of_garden)


def looks_of(plans: Mapping[str, str]) -> dict[str, int]:
    """Return the number of each plan's look: its own in its garden, or its place here where no garden is known."""
    return plans.looks if isinstance(plans, PlanTitles) else {plan: place for place, plan in enumerate(plans)}


def look_numbers(shown: Sequence[str], of_garden: Sequence[str]) -> dict[str, int]:
    """Return the number of the look of each plan shown.

    It is the plan's place in the garden's list. Where a garden has more plans than there are looks, a plan farther down
    would have the look of one farther up; if both are shown, it takes the first that is free.
    """
    numbers: dict[str, int] = {}
    for plan in sorted(shown, key=list(of_garden).index):
        own = list(of_garden).index(plan) % len(LOOKS)
        free = [number for number in range(len(LOOKS)) if number not in numbers.values()]
        numbers[plan] = own if own in free or not free else free[0]
    return numbers
