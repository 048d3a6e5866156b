"""How lives are counted for the patterns."""

import pytest

from sim.patterns.lives import cohort, waits_for_spring

MAY, SEPTEMBER = 75, 185
"""Days of a season that begins on 1 March."""


@pytest.mark.parametrize(("laid", "rests"), [(MAY, False), (SEPTEMBER, True)])
def test_pupae_that_wait_for_spring_are_a_generation_of_this_year(laid, rests):
    """The column of pupae leaves resters out, so that without asking for them the year's last brood went uncounted."""
    lived = cohort("warm_humid", laid, 1)
    assert waits_for_spring(lived.insects) == rests
    assert (lived.chronicle.column("cabbage_white_pupae").max() > 0) == (not rests)
