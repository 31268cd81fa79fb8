"""Long questions: progress, control-C, other threads."""

import os
import signal
import subprocess
import sys
import threading
import unittest

import slewtime
from support import DAILY

MANY = 100_000  # samples of a plan take minutes: a question that is not stopped is noticed
LONG = f"""
import slewtime
def told(done, samples):
    if done > 0:
        print("going", flush=True)
try:
    slewtime.Scenario.read({str(DAILY)!r}).QUESTION(samples={MANY}, progress=told)
except KeyboardInterrupt:
    print("interrupted", flush=True)
print(slewtime.Scenario.read({str(DAILY)!r}).run().deploy.says)
"""


class Stop(Exception):
    pass


class Asking(unittest.TestCase):
    def check_interrupt(self, question):
        child = subprocess.Popen([sys.executable, "-c", LONG.replace("QUESTION", question)],
                                 stdout=subprocess.PIPE, text=True)
        try:
            self.assertEqual(child.stdout.readline(), "going\n")
            os.kill(child.pid, signal.SIGINT)
            rest = child.communicate(timeout=300)[0].split()
        finally:
            child.kill()
        self.assertEqual((rest[-2:], child.returncode), (["interrupted", "deployed"], 0))

    def test_control_c_ends_an_offset(self):
        self.check_interrupt("offset")

    def test_control_c_ends_a_plan(self):
        self.check_interrupt("plan")

    def test_progress_is_told_while_the_question_goes_on_and_may_end_it(self):
        seen = []

        def stop(done, samples):
            seen.append((done, samples))
            if done > 0:
                raise Stop

        with self.assertRaises(Stop):
            slewtime.Scenario.read(DAILY).offset(MANY, progress=stop)
        # Python ran while the library was at it: its lock was free
        self.assertTrue(0 < seen[-1][0] < MANY)
        self.assertEqual({samples for _, samples in seen}, {MANY})

    def test_other_threads_run_meanwhile(self):
        scenario = slewtime.Scenario.read(DAILY)
        going, enough = threading.Event(), threading.Event()
        ended = []

        def told(done, _samples):
            if done > 0:
                going.set()
            if enough.is_set():
                raise Stop

        def ask():
            try:
                scenario.offset(MANY, threads=1, progress=told)
            except Stop:
                ended.append("stopped")

        asking = threading.Thread(target=ask)
        asking.start()
        going.wait()
        runs = [scenario.run() for _ in range(20)]
        self.assertTrue(asking.is_alive())
        enough.set()
        asking.join()
        self.assertEqual(ended, ["stopped"])
        self.assertTrue(all(run == runs[0] for run in runs))

    def test_the_digits_do_not_depend_on_threads(self):
        scenario = slewtime.Scenario.read(DAILY)
        one, two = (scenario.offset(128, threads=threads) for threads in (1, 2))
        self.assertEqual(one.choice, two.choice)
        self.assertNotEqual(one.choice, scenario.offset(128, seed=9).choice)

    def test_eight_threads_step_machines_of_their_own(self):
        scenario = slewtime.Scenario.read(DAILY)

        def stow(into, place):
            machine = slewtime.Machine(scenario)
            machine.stow()
            into[place] = list(machine.events())

        alone, together = [None], [None] * 8
        stow(alone, 0)
        threads = [threading.Thread(target=stow, args=(together, i)) for i in range(8)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        self.assertEqual(together, alone * 8)


if __name__ == "__main__":
    unittest.main()
