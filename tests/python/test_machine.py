"""The machine stepped from Python is the one that runs."""

import copy
import math
import pickle
import unittest

import slewtime
from support import DAILY


class Machines(unittest.TestCase):
    def setUp(self):
        self.scenario = slewtime.Scenario.read(DAILY)
        self.machine = slewtime.Machine(self.scenario)

    def test_a_stow_has_the_events_of_a_run_to_the_bit(self):
        self.machine.stow()
        events = list(self.machine.events())
        run = self.scenario.run("stow_only")
        self.assertEqual(events, list(run.events))
        self.assertEqual((self.machine.says, self.machine.fault, self.machine.fault_axis),
                         ("stowed", "none", None))
        self.assertEqual(self.machine.look().angle, run.stow.angle)
        self.assertEqual(self.machine.duration, run.stow.duration)
        self.assertEqual(self.machine.meters().charge, run.charge)

    def test_how_time_is_cut_changes_nothing(self):
        whole = self.machine.copy()
        for machine in (self.machine, whole):
            machine.stow()
        cut = []
        for frame in range(1, 400):
            cut += self.machine.events(frame * 0.05)
        self.assertEqual(cut, list(whole.events(399 * 0.05)))
        self.assertEqual(self.machine.look(), whole.look())

    def test_copies_and_bytes_go_on_alike(self):
        self.machine.stow()
        list(self.machine.events(5.3))
        twins = [self.machine.copy(), copy.deepcopy(self.machine),
                 slewtime.Machine.restore(self.machine.save()),
                 pickle.loads(pickle.dumps(self.machine))]
        self.machine.cancel()
        list(self.machine.events())
        self.assertEqual(self.machine.fault, "cancelled")
        ends = []
        for twin in twins:
            self.assertEqual((twin.time, twin.task), (5.3, "stow"))
            list(twin.events())
            ends.append(twin.look())
        self.assertEqual(ends, ends[:1] * len(ends))
        self.assertEqual(twins[0].says, "stowed")

    def test_damaged_bytes_are_refused(self):
        block = bytearray(self.machine.save())
        block[len(block) // 2] ^= 1
        with self.assertRaises(slewtime.Error) as caught:
            slewtime.Machine.restore(bytes(block))
        self.assertEqual(caught.exception.status, "damaged")
        with self.assertRaises(slewtime.Error) as caught:
            slewtime.Machine.restore(b"another build's " * 10)
        self.assertEqual(caught.exception.status, "build")

    def test_commands_and_conditions(self):
        machine = self.machine
        self.assertTrue(machine.jog("elevation", 1))
        list(machine.events(1))
        up = machine.look()
        self.assertEqual((machine.task, up.drive), ("jog", (0, 1)))
        weak = self.scenario.copy()
        weak.set("supply.main.voltage", "11 V")
        machine.change(weak)
        self.assertLess(machine.look().voltage, up.voltage)
        machine.load("elevation", 30.0)
        list(machine.events(2))
        self.assertLess(machine.look().angle[1] - up.angle[1], up.angle[1] - math.radians(42))
        machine.jog(slewtime.ELEVATION, 0)
        list(machine.events())
        self.assertFalse(machine.ready)
        machine.advance(machine.time + 1)
        self.assertTrue(machine.ready and machine.holds and not machine.gave_up)

    def test_a_change_that_can_not_be_is_refused(self):
        self.machine.jog("elevation", -1)
        list(self.machine.events(1))
        other = self.scenario.copy()
        other.set("elevation.gear.ratio", "150")
        before = self.machine.look()
        self.assertRaises(slewtime.Error, self.machine.change, other)
        self.assertEqual(self.machine.look(), before)


if __name__ == "__main__":
    unittest.main()
