"""slewtime: powered fire monitors that are stowed and deployed by time, simulated.

    scenario = slewtime.Scenario.read("daily.yaml")
    scenario.set("supply.main.voltage", "11.8 V", layer="today")
    run = scenario.run()
    print(run.deploy.says, run.deploy.angle[slewtime.ELEVATION])

All figures are in SI (rad, s, V, A, K, N m; shares are plain numbers), angles and directions as in
the headers: rotation + to the right, elevation + up. Answers are records with the fields that the
headers give them (slewtime.records); what is wrong is raised as slewtime.Error.
"""

from . import records
from ._errors import Error
from ._library import lib as _lib, text as _text
from ._machine import Machine
from ._scenario import Fit, Offset, Plan, Run, Scenario
from .records import words

ROTATION: int = _lib.SLEW_ROTATION
ELEVATION: int = _lib.SLEW_ELEVATION
__version__: str = _text(_lib.slew_version())

__all__ = ["ELEVATION", "Error", "Fit", "Machine", "Offset", "Plan", "ROTATION", "Run", "Scenario",
           "records", "words"]
