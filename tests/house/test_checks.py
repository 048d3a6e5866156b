"""The checks from outside: enough of them, most of them independent, each with its source."""

from sim.parameters.table import sources
from tests.house.test_numbers import import_checks
from tests.outside.register import CHECKS

FEWEST = 70
FEWEST_INDEPENDENT = 40
UNSOURCED = {"memory", "common practice, no source"}


def test_there_are_enough_and_most_were_not_used_to_set_a_parameter():
    import_checks()
    told = {(check.what, check.source) for check in CHECKS}
    independent = {(check.what, check.source) for check in CHECKS if check.independent}
    print(
        *sorted(f"{'independent' if one in independent else 'calibrated '} {one[1]}: {one[0]}" for one in told),
        sep="\n",
    )
    assert len(told) >= FEWEST, f"{len(told)} checks"
    assert len(independent) >= FEWEST_INDEPENDENT, f"{len(independent)} independent checks"


def test_each_check_names_a_source_that_is_in_the_bibliography():
    import_checks()
    for check in CHECKS:
        is_arithmetic = check.read == "derived" and not check.independent
        is_unsourced = check.source == "none" and (check.read in UNSOURCED or is_arithmetic)
        assert check.source in sources() or is_unsourced, check
