"""What a scenario is, what a gardener can do in it, and how files are read and changed."""

from sim.scenario.files import load_scenario, new_scenario_text, scenario_names
from sim.scenario.model import Bed, Plan, Scenario

__all__ = ["Bed", "Plan", "Scenario", "load_scenario", "new_scenario_text", "scenario_names"]
