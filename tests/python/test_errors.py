"""What is wrong is an exception that says where."""

import copy
import pickle
import tempfile
import unittest

import slewtime
from support import DAILY, EXAMPLES


def edited(old, new):
    text = DAILY.read_text()
    assert old in text
    return text.replace(old, new, 1)


class Errors(unittest.TestCase):
    def test_a_wrong_line_of_a_file_has_its_place(self):
        text = edited("voltage: 13.4 V", "voltage: 13.4 m")
        line = 1 + text[:text.index("13.4 m")].count("\n")
        with tempfile.NamedTemporaryFile("w", suffix=".yaml") as file:
            file.write(text)
            file.flush()
            with self.assertRaises(slewtime.Error) as caught:
                slewtime.Scenario.read(file.name)
        error = caught.exception
        self.assertEqual((error.file, error.line, error.status), (file.name, line, "input"))
        self.assertTrue(error.key.endswith("supply.main.voltage"), error.key)
        self.assertIn("13.4 m", error.excerpt)
        self.assertIn(f"{file.name}:{line}:", str(error))

    def test_every_error_of_a_file_is_there(self):
        text = edited("voltage: 13.4 V", "voltag: 13.4 V") + "\nnonsense: 1\n"
        with self.assertRaises(slewtime.Error) as caught:
            slewtime.Scenario.read_text(text, name="typed")
        errors = caught.exception.errors
        self.assertIs(errors[0], caught.exception)
        self.assertGreaterEqual(len(errors), 2)
        self.assertEqual({error.file for error in errors}, {"typed"})

    def test_a_misspelt_key_has_a_nearest_one_and_changes_nothing(self):
        scenario = slewtime.Scenario.read(DAILY)
        before = scenario.hash
        with self.assertRaises(slewtime.Error) as caught:
            scenario.set("supply.main.voltag", "12 V")
        self.assertEqual(caught.exception.nearest, "supply.main.voltage")
        self.assertEqual(scenario.hash, before)
        scenario.set("supply.main.voltage", "12 V")
        with self.assertRaisesRegex(slewtime.Error, "unknown key"):
            scenario.get("supply.main.voltag")

    def test_a_file_that_is_not_there(self):
        with self.assertRaises(slewtime.Error) as caught:
            slewtime.Scenario.read("no-such-file.yaml")
        self.assertEqual((caught.exception.status, caught.exception.file),
                         ("file", "no-such-file.yaml"))

    def test_an_error_of_a_run_has_the_place_of_its_key(self):
        # an auxiliary battery on a feed without resistance makes no machine
        scenario = slewtime.Scenario.read(DAILY)
        scenario.set("stow.point.elevation", "-19.99 deg")
        scenario.set("supply.main.voltage", "0.5 V", layer="teach")
        with self.assertRaises(slewtime.Error) as caught:
            scenario.run()
        self.assertIn(caught.exception.status, ("teach", "input"))
        self.assertNotEqual(caught.exception.key, "")
        self.assertNotEqual(caught.exception.file, "")

    def test_a_wrong_row_of_timings_has_its_line(self):
        with tempfile.NamedTemporaryFile("w", suffix=".csv") as file:
            file.write("axis,direction,from,to,seconds_s\nelevation,up,low_stop,home,fast\n")
            file.flush()
            with self.assertRaises(slewtime.Error) as caught:
                slewtime.Scenario.read(DAILY).fit(file.name, ["elevation.gear.efficiency"])
        self.assertEqual((caught.exception.file, caught.exception.line), (file.name, 2))

    def test_arguments_that_are_none(self):
        scenario = slewtime.Scenario.read(DAILY)
        machine = slewtime.Machine(scenario)
        for call in (lambda: scenario.run("half"), lambda: scenario.margin("sideways"),
                     lambda: scenario.set("title", "x", layer="tomorrow"),
                     lambda: machine.jog("elevation", 2), lambda: machine.jog("sideways", 1),
                     lambda: machine.load("elevation", float("nan")),
                     lambda: slewtime.Machine(scenario, "teach"),
                     lambda: scenario.fit(EXAMPLES / "stopwatch.csv", [])):
            self.assertRaises(ValueError, call)
        self.assertRaises(slewtime.Error, scenario.trace, 1e-9)
        self.assertRaises(slewtime.Error, scenario.offset, 0)
        self.assertRaises(TypeError, slewtime.Scenario)

    def test_errors_and_scenarios_go_between_processes(self):
        error = slewtime.Error("input", "wrong", file="a", line=3, key="k")
        again = pickle.loads(pickle.dumps(error))
        self.assertEqual((again.file, again.line, again.key, str(again)), ("a", 3, "k", str(error)))
        scenario = slewtime.Scenario.read(DAILY)
        scenario.set("supply.main.voltage", "12 V")
        self.assertEqual(pickle.loads(pickle.dumps(scenario)).hash, scenario.hash)
        self.assertEqual(copy.deepcopy(scenario).hash, scenario.hash)


if __name__ == "__main__":
    unittest.main()
