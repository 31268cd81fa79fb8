"""What the tests of the Python module share: the installed tool beside it, and the examples."""

import json
import os
import pathlib
import subprocess

TOOL = os.environ["SLEWTIME_TOOL"]
EXAMPLES = pathlib.Path(__file__).resolve().parents[2] / "examples"
DAILY = EXAMPLES / "daily.yaml"


def tool(*words):
    """What the tool says as JSON; its exit code is another matter."""
    done = subprocess.run([TOOL, *map(str, words), "--json"], capture_output=True, text=True)
    return json.loads(done.stdout)


def digits(number):
    """A number as the tool's JSON has it: 12 digits."""
    return float(f"{number:.12g}")
