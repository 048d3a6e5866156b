"""Papers for pages are made in a process of its own, in the words of the visit, behind everybody else."""

import os

from dashboard.language.tongue import current_language, current_units, speaking
from dashboard.paper.press import POLITENESS, print_there


def told():
    return os.getpid(), os.nice(0), current_language(), current_units()


def test_a_paper_is_made_elsewhere_in_the_words_of_the_visit_and_lets_others_go_first():
    with speaking("es", "us"):
        process, politeness, language, units = print_there(told)
    assert process != os.getpid()
    assert politeness >= os.nice(0) + POLITENESS or politeness == 19
    assert (language, units) == ("es", "us")


def test_the_same_process_makes_the_next_and_is_no_more_polite():
    first, second = print_there(told), print_there(told)
    assert first == second
