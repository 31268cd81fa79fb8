"""The machine with its controller, stepped from outside."""

import math

from . import records
from ._errors import raise_for
from ._library import ffi, lib
from .records import axis_of, to_python, value_of


class Machine:
    """A monitor in a loop of your own: commands at any time, and time goes on as far as asked.

    It starts at rest at the start angles of `occasion` ("stow" or "deploy"), with no task, at time
    0. One machine belongs to one thread at a time. Units are SI: s, rad, A, V, N m.
    """

    def __init__(self, scenario, occasion="stow"):
        c, error = scenario._c, ffi.new("slew_error *")
        number = value_of("occasion", occasion)
        if number == lib.SLEW_OCCASION_TEACH:
            raise ValueError("'teach': a machine starts to stow or to deploy")
        if number == lib.SLEW_OCCASION_DEPLOY and not c.deploy.given:
            raise ValueError("the scenario has no deploy")
        prepared = ffi.new("slew_prepared *")
        scenario._raise_located(
            lib.slew_prepare(c, lib.SLEW_STOW_AND_DEPLOY, prepared, error), error)
        self._m = ffi.new("slew_machine *")
        lib.slew_machine_start(c, prepared, number, self._m)

    # ---- time ----

    def advance(self, until):
        """Goes on to `until` [s] or to the next event: that Event, else None."""
        event = ffi.new("slew_event *")
        return to_python(event) if lib.slew_machine_advance(self._m, until, event) else None

    def events(self, until=math.inf):
        """The events up to `until` [s], one by one; without it, until nothing happens any more."""
        while (event := self.advance(until)) is not None:
            yield event

    def look(self):
        """The present instant: a Sample."""
        return to_python(lib.slew_machine_look(self._m))

    def meters(self):
        """Extremes and charge so far: Meters."""
        return to_python(lib.slew_machine_meters(self._m))

    # ---- commands: False if the machine stands still for good, or too many events wait ----

    def stow(self):
        """Lift, search for home and stored times."""
        return lib.slew_machine_stow(self._m)

    def deploy(self):
        """The deploy seconds."""
        return lib.slew_machine_deploy(self._m)

    def cancel(self):
        """All drives off."""
        return lib.slew_machine_cancel(self._m)

    def jog(self, axis, direction):
        """Drives an axis by hand, +1 (right, up) or -1 (left, down), until 0."""
        if direction not in (-1, 0, 1):
            raise ValueError(f"{direction!r}: not -1, 0 or 1")
        return lib.slew_machine_jog(self._m, axis_of(axis), direction)

    # ---- conditions ----

    def change(self, scenario, occasion="stow"):
        """Goes on under the conditions that a scenario has on an occasion, in motion too. The
        stored times are not taught anew."""
        setup, error = ffi.new("slew_setup *"), ffi.new("slew_error *")
        lib.slew_scenario_resolve(scenario._c, value_of("occasion", occasion), setup)
        scenario._raise_located(lib.slew_machine_change(self._m, setup, error), error)

    def load(self, axis, torque):
        """A load from outside [N m], positive against motion in the + direction."""
        number = axis_of(axis)
        if not math.isfinite(torque):
            raise ValueError(f"{torque!r}: not a torque")
        raise_for(lib.slew_machine_load(self._m, number, torque))

    # ---- copies ----

    @classmethod
    def _with(cls, state):
        machine = object.__new__(cls)
        machine._m = state
        return machine

    def copy(self):
        """A machine in the same state that goes its own way."""
        return self._with(ffi.new("slew_machine *", self._m[0]))

    __copy__ = copy

    def __deepcopy__(self, _memo):
        return self.copy()

    def save(self):
        """The state as bytes, for the same build of the library."""
        # SLEW_MACHINE_BYTES as declarations.sh hands it over: what is added to the machine's size
        block = ffi.new("unsigned char[]", ffi.sizeof("slew_machine") + lib.SLEW_MACHINE_BYTES)
        lib.slew_machine_save(self._m, block)
        return bytes(ffi.buffer(block))

    @classmethod
    def restore(cls, block):
        """A machine from the bytes of save(). Error "build": saved by another build; "damaged"."""
        state = ffi.new("slew_machine *")
        raise_for(lib.slew_machine_restore(ffi.from_buffer(block), len(block), state))
        return cls._with(state)

    def __reduce__(self):
        return self.restore, (self.save(),)

    # ---- what it is doing ----

    def _field(self, name):
        return records.field(self._m[0], name)

    time = property(lambda self: self._m.time, doc="since the start [s]")
    task = property(lambda self: self._field("task"), doc='"none", "stow", "deploy", "jog"')
    says = property(lambda self: self._field("says"), doc="of the last task: a verdict's word")
    fault = property(lambda self: self._field("fault"), doc='of the last task; "none"')
    fault_axis = property(lambda self: self._field("fault_axis"), doc="of that; None: none")
    holds = property(lambda self: self._m.holds, doc="False: an axis would be moved by its load")
    gave_up = property(lambda self: self._m.gave_up, doc="True: too many pieces of motion")
    duration = property(lambda self: self._m.duration, doc="of the last stow or deploy [s]")
    ready = property(lambda self: lib.slew_machine_is_ready(self._m),
                     doc="all axes rest and the pause is over")
