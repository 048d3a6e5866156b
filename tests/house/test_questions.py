"""The page of questions: its commands can be said, and its claims speak of what those commands run."""

import re
import shlex

import pytest

from dashboard.command import parser
from dashboard.commands.question_page import page_of
from dashboard.commands.questions import Claim, Question, Support, holds, questions, said
from dashboard.commands.sweeping import measures_to_show, plans_to_run, scenario_of, settings_of
from sim.sweep import points_of
from tests.house.files import ROOT

PAGE = ROOT / "docs" / "QUESTIONS.md"


def asked(command):
    words = shlex.split(command)
    assert words[:2] == ["leafnest", "sweep"]
    choice = parser().parse_args(words[1:])
    scenario = scenario_of(choice)
    settings = settings_of(choice, scenario)
    return scenario, settings, plans_to_run(choice, scenario, settings), measures_to_show(choice)


@pytest.mark.parametrize("question", questions(), ids=lambda question: question.name)
def test_a_command_can_be_said_and_every_value_is_allowed(question):
    scenario, settings, plans, _ = asked(question.command)
    for point in points_of(settings):
        changes = {key: value for setting, value in zip(settings, point, strict=True) for key in setting.keys}
        assert set(plans) <= set(scenario.with_changes(changes).plan_names)


@pytest.mark.parametrize("question", questions(), ids=lambda question: question.name)
def test_claims_speak_of_what_is_run_and_drawn(question):
    _, settings, plans, measures = asked(question.command)
    count = len(points_of(settings))
    assert question.claims
    for claim in question.claims:
        assert claim.supports
        spoken = claim.figures + [(one.measure, place) for one in claim.supports for place in (one.this, one.that)]
        for measure, place in spoken:
            plan, _, number = place.partition("@")
            assert measure in measures
            assert plan in plans
            assert -count <= int(number) < count
        assert "{" not in re.sub(r"\{\w+\s+\w+@-?\d+\}", "", claim.says)


def test_questions_have_names_of_their_own():
    names = [question.name for question in questions()]
    assert len(set(names)) == len(names) == 18


def test_the_page_has_every_question_its_command_and_its_picture():
    page = PAGE.read_text(encoding="utf-8")
    blocks = [re.sub(r"\s*\\\n\s*", " ", block) for block in re.findall(r"```sh\n(.*?)\n```", page, re.DOTALL)]
    assert blocks == [question.command for question in questions()]
    assert re.findall(r"^## (.*)$", page, re.MULTILINE) == [question.asks for question in questions()]
    pictures = re.findall(r"^!\[[^]]+\]\((\S+)\)$", page, re.MULTILINE)
    assert pictures == [f"questions/{question.name}.png" for question in questions()]
    assert {path.name for path in (PAGE.parent / "questions").iterdir()} == {
        f"{question.name}.png" for question in questions()
    }
    assert "Labels of sprays are the law" in " ".join(page.split())


class InventedSeason:
    def __init__(self, scenario, plan, seed):
        late = scenario.plan("net").actions[1].days_after_planting if plan == "net" else 0
        self.summary = {"marketable_kg": 20.0 + seed - late, "fruit_set_share": 0.712}


def test_a_claim_is_said_only_when_the_run_bears_it_out(monkeypatch):
    import sim.jobs
    from dashboard.commands.sweeping import answer_to

    monkeypatch.setattr(sim.jobs, "_run_season", lambda: InventedSeason)
    monkeypatch.setattr(sim.jobs, "cores", lambda: 1)  # other processes would live seasons
    cost = Claim("Late costs: {marketable_kg net@1} after {marketable_kg net@0}.", (support("net@1", "<", "net@0"),))
    gains = Claim("Late gains.", (support("net@1", ">", "net@0"),))
    both = Claim("Both.", (support("net@1", "<", "net@0"), support("net@1", "~", "net@0")))
    same = Claim("{fruit_set_share net@0} of flowers.", (support("net@0", "=", "nothing@0"),))
    command = (
        "leafnest sweep leaf_bed --plan nothing --plan net --seasons 8 "
        "--vary plans.net.actions.cover.days_after_planting=0,3 --measure marketable_kg --measure fruit_set_share"
    )
    question = Question("late", "Late?", command, "A note.", (cost, gains, both, same))
    answer = answer_to(question)
    assert [holds(claim, answer.sweep) for claim in question.claims] == [True, False, False, True]
    assert said(cost, answer.sweep) == "Late costs: 22 kg after 24 kg."
    assert answer.claims[1] == "71 % of flowers."
    assert answer.dropped == ["Late gains.", "Both."]
    page = page_of([answer], "questions")
    assert "- Late costs: 22 kg after 24 kg." in page
    assert "Late gains" not in page
    assert "8 seasons, seeds 1 to 8" in page
    assert "| 3 | `net` | 22 (19 to 24) | 71 |" in page


def support(this, sign, that):
    return Support("marketable_kg", this, sign, that)
