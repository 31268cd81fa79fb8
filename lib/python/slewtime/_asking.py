"""Calls of the library that take long, or that call back.

The call runs in a thread of its own without Python's lock, and the caller waits: control-C and
whatever `progress` raises then reach the caller, not a callback, which could not hand them on. The
question is told to stop, and the exception goes on once it has.
"""

import threading

from ._library import ffi

_LOOK = 0.05  # how often progress is told [s]


class Asking:
    """One question: `stopped` once it is to end, `done` how many samples it is through."""

    def __init__(self, progress=None, total=0):
        self.stopped = False
        self.done = 0
        self._progress, self._total = progress, total

    def tell(self):
        if self._progress is not None:
            self._progress(self.done, self._total)

    def callback(self):
        """For slew_sampling.progress; to be kept as long as the question lasts."""
        def go_on(_context, done):
            self.done = done
            return not self.stopped
        return ffi.callback("bool(void *, int64_t)", go_on)

    def finish(self, call):
        """What call() returns or raises."""
        outcome, through = {}, threading.Event()

        def work():
            try:
                outcome["value"] = call()
            except BaseException as error:  # handed to the caller's thread
                outcome["error"] = error
            through.set()

        threading.Thread(target=work, name="slewtime").start()
        try:
            while not through.wait(_LOOK):
                self.tell()
        except BaseException:
            self.stopped = True
            _wait(through)
            raise
        if "error" in outcome:
            raise outcome["error"]
        return outcome["value"]


def _wait(through):
    """The library still writes into what the caller holds: a second control-C has to wait too. (A
    thread whose join was interrupted is taken for ended in Python 3.11: so it is an event.)"""
    while not through.is_set():
        try:
            through.wait()
        except KeyboardInterrupt:
            pass
