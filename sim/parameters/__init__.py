"""Numbers of nature: every constant of the model with value, unit, range, source and evidence."""

from sim.parameters.table import Parameter, Parameters, load_parameters, sources

__all__ = ["Parameter", "Parameters", "load_parameters", "sources"]
