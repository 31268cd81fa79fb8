"""The module's answers are the tool's, to all the digits that the tool prints."""

import csv
import math
import pathlib
import subprocess
import sys
import tempfile
import unittest

import numpy
import slewtime
from slewtime import ELEVATION, ROTATION
from support import DAILY, EXAMPLES, TOOL, digits, tool


def degrees(angle):
    return digits(math.degrees(angle))


class OneRun(unittest.TestCase):
    def check_part(self, told, part):
        self.assertEqual(told["says"], part.says)
        self.assertEqual(told["fault"] or "none", part.fault)
        self.assertEqual(told["axis"], part.axis)
        self.assertEqual(told["rotation_deg"], degrees(part.angle[ROTATION]))
        self.assertEqual(told["elevation_deg"], degrees(part.angle[ELEVATION]))

    def check_run(self, path):
        told, run = tool("run", path), slewtime.Scenario.read(path).run()
        self.check_part(told["stow"], run.stow)
        if told["deploy"]:
            self.check_part(told["deploy"], run.deploy)
        self.assertEqual(told["lowest_voltage_V"], digits(run.lowest_voltage))
        self.assertEqual(told["charge_As"], digits(run.charge))
        self.assertEqual([(e["time_s"], e["kind"], e["axis"], e["current_A"])
                          for e in told["events"]],
                         [(digits(e.time), e.kind, e.axis, digits(e.current)) for e in run.events])

    def test_a_run_has_the_verdicts_and_events_of_the_tool(self):
        self.check_run(DAILY)

    def test_a_run_that_faults_too(self):
        path = EXAMPLES / "dead-sensor.yaml"
        self.assertNotEqual(slewtime.Scenario.read(path).run().stow.fault, "none")
        self.check_run(path)

    def test_settings_are_those_of_the_command_line(self):
        scenario = slewtime.Scenario.read(DAILY)
        scenario.set("supply.feed.gauge", "4 AWG")
        scenario.set("supply.main.voltage", "11.8 V", layer="today")
        scenario.set("supply.main.voltage", "uniform 11 V..14 V", layer="spread")
        told = tool("run", DAILY, "--set", "supply.feed.gauge=4 AWG",
                    "--today", "supply.main.voltage=11.8 V",
                    "--spread", "supply.main.voltage=uniform 11 V..14 V")
        self.assertEqual(told["scenario"], scenario.hash)
        self.assertEqual(told["deploy"]["elevation_deg"],
                         degrees(scenario.run().deploy.angle[ELEVATION]))

    def test_the_trace_is_the_tools(self):
        with tempfile.TemporaryDirectory() as folder:
            path = pathlib.Path(folder) / "trace.csv"
            subprocess.run([TOOL, "run", DAILY, "--trace", path], check=True,
                           stdout=subprocess.DEVNULL)
            told = list(csv.DictReader(path.read_text().splitlines()))
        trace = slewtime.Scenario.read(DAILY).trace(interval=0.01)
        self.assertEqual(len(told), len(trace))
        for name, column in (("time_s", trace["time"]), ("voltage_V", trace["voltage"]),
                             ("elevation_A", trace["current"][:, ELEVATION])):
            self.assertEqual([float(row[name]) for row in told], list(map(digits, column)))
        self.assertEqual([int(row["rotation_drive"]) for row in told],
                         trace["drive"][:, ROTATION].tolist())
        self.assertEqual([row["elevation_closed"] == "true" for row in told],
                         trace["closed"][:, ELEVATION].tolist())
        self.assertEqual(trace["closed"].dtype, numpy.bool_)

    def test_keys_are_read_as_set(self):
        scenario = slewtime.Scenario.read(DAILY)
        scenario.set("supply.main.voltage", "12.5 V")
        self.assertEqual(scenario.get("supply.main.voltage"), "12.5 V")
        self.assertEqual(scenario.number("supply.main.voltage"), 12.5)
        scenario.set("rotation.home.stuck", True)
        self.assertEqual(scenario.get("rotation.home.stuck"), "yes")
        self.assertIsNone(slewtime.Scenario.read(DAILY).get("supply.feed.area"))

    def test_a_copy_goes_its_own_way(self):
        scenario = slewtime.Scenario.read(DAILY)
        other = scenario.copy()
        other.set("supply.main.voltage", "11 V")
        self.assertNotEqual(other.hash, scenario.hash)
        self.assertEqual(scenario.hash, slewtime.Scenario.read_text(DAILY.read_text()).hash)


class Readme(unittest.TestCase):
    def test_its_program_runs(self):
        text = (EXAMPLES / "README.md").read_text()
        program = text.split("```python\n")[1].split("```")[0]
        done = subprocess.run([sys.executable, "-c", program], cwd=EXAMPLES.parent,
                              capture_output=True, text=True)
        self.assertEqual(done.stderr, "")
        self.assertRegex(done.stdout, r"^deployed 0\.\d+\n$")


class Studies(unittest.TestCase):
    def check_share(self, told, share):
        self.assertEqual((told["share"], told["low"], told["high"]),
                         (digits(share.value), digits(share.low), digits(share.high)))

    def check_judged(self, told, judgment):
        self.assertEqual(told["meets"], judgment.meets)
        for word, state in zip(slewtime.words("demand"), judgment.of):
            self.assertEqual(told[word]["misses"], state.misses)
            self.check_share(told[word]["missed"], state.missed)

    def test_offset(self):
        told = tool("offset", DAILY, "--samples", 256, "--seed", 3)
        offset = slewtime.Scenario.read(DAILY).offset(256, seed=3, finer=True)
        self.check_judged(told["judged"], offset.told[0].judged)
        self.assertEqual([(a["kind"], a["axis"]) for a in told["advice"]],
                         [(a.kind, a.axis) for a in offset.advice])

    def test_plan(self):
        told = tool("plan", DAILY, "--samples", 64)
        plan = slewtime.Scenario.read(DAILY).plan(64)
        self.check_judged(told["today"]["demands"], plan.today.judgment)
        self.assertEqual([(row["words"], row["key"], row["cost"]) for row in told["changes"]],
                         [(row.change.plain, row.change.key, row.cost) for row in plan.row])

    def test_margin(self):
        told = tool("margin", DAILY, "--samples", 64)["low"]
        low = slewtime.Scenario.read(DAILY).margin(samples=64).side[0]
        self.assertEqual(told["need"]["enough_deg"], degrees(low.need.enough))
        self.check_share(told["need"]["beyond"], low.need.beyond)
        self.assertEqual([step["clearance_deg"] for step in told["ladder"]],
                         [degrees(step.clearance) for step in low.step])

    def test_fit(self):
        keys = ["elevation.gear.efficiency", "supply.feed.joint_resistance"]
        csv_file = EXAMPLES / "stopwatch.csv"
        told = tool("fit", DAILY, csv_file, "--key", keys[0], "--key", keys[1], "--bias")
        scenario = slewtime.Scenario.read(DAILY)
        fit = scenario.fit(csv_file, keys, bias=True)
        self.assertEqual([f["key"] for f in told["figures"]], [f.key for f in fit.figure])
        self.assertEqual([digits(f["told"]) for f in told["figures"]],
                         [digits(f.told) for f in fit.figure])
        self.assertEqual(len(fit.correlation), len(fit.figure))
        fitted = slewtime.Scenario.read_text(fit.text("fitted by a test"))
        # a file has six digits
        self.assertAlmostEqual(fitted.number(keys[0]), fit.figure[0].value, delta=5e-7)
        self.assertIn("fitted by a test", fit.text("fitted by a test"))


if __name__ == "__main__":
    unittest.main()
