"""Scenarios, and the questions that are asked of them."""

import os

from . import records
from ._asking import Asking
from ._errors import Error, from_c, raise_for
from ._library import ffi, lib, owned_text, text
from .records import to_python, value_of

_SPREAD = "spread"
_SINK = "void(void *, const slew_error *)"


class Run(records.Result):
    """A Result with `events`, and `ok`: stow and deploy are where they should be."""


class Offset(records.Offset):
    """An Offset with `finer` (None unless asked) and `advice`."""


class Plan(records.Plan):
    """A Plan with `advice`, what is recommended."""


class Fit(records.Fit):
    """A Fit, with the text of the calibrated scenario."""

    def text(self, note=None):
        """The scenario's text with the fitted values and how well they are known."""
        error = ffi.new("slew_error *")
        words = owned_text(lib.slew_fit_write(
            self._fit, self._source, *self._assignments,
            ffi.NULL if note is None else note.encode(), error))
        if words is None:
            raise_for(error.status or lib.SLEW_ERROR_INPUT, error)
        return words

    def _asdict(self):
        return {name: value for name, value in super()._asdict().items() if name[0] != "_"}


class Scenario:
    """A truck and what is asked of it. Made by read() or read_text()."""

    def __init__(self):
        raise TypeError("a Scenario is made by Scenario.read(path) or Scenario.read_text(text)")

    # ---- reading ----

    @classmethod
    def read(cls, path):
        """Reads a file."""
        name = os.fsdecode(path)
        error = ffi.new("slew_error *")
        words = owned_text(lib.slew_scenario_text(os.fsencode(path), error))
        if words is None:
            raise_for(error.status, error)
        return cls._of(words, name, {})

    @classmethod
    def read_text(cls, text, name="text"):
        """Reads a text; `name` stands for the file in errors."""
        return cls._of(text, name, {})

    @classmethod
    def _of(cls, source, name, settings):
        scenario = object.__new__(cls)
        scenario._source, scenario._name, scenario._settings = source, name, settings
        scenario._take(settings)
        return scenario

    def _reading(self, settings):
        """A slew_reading, and what it points at."""
        texts = [(layer, ffi.new("char[]", f"{key}={value}".encode()))
                 for (layer, key), value in settings.items()]
        origin = ffi.new("char[]", b"set")
        items = ffi.new("slew_assignment[]", len(texts))
        for item, (layer, words) in zip(items, texts):
            item.text, item.origin = words, origin
            item.is_spread = layer == _SPREAD
            item.layer = 0 if item.is_spread else _layer(layer)
        reading = ffi.new("slew_reading *", {"assignments": items, "assignment_count": len(texts)})
        return reading, (texts, origin, items)

    def _read(self, reading, out):
        source = self._source.encode()
        return Asking().finish(lambda: lib.slew_scenario_read_memory(
            source, len(source), os.fsencode(self._name), reading, out))

    def _take(self, settings):
        """Reads the text again with these settings; nothing changes if that fails."""
        errors, warnings = [], []
        heard = ffi.callback(_SINK, lambda _, error: errors.append(from_c(error)))
        warned = ffi.callback(_SINK, lambda _, error: warnings.append(from_c(error)))
        reading, kept = self._reading(settings)
        reading.errors.report, reading.warnings.report = heard, warned
        out = ffi.new("slew_scenario *")
        raise_for(self._read(reading, out), found=errors)
        del kept
        self._c, self._settings, self.warnings = out, settings, tuple(warnings)

    def _raise_located(self, status, error):
        """Raises an error that came up after reading, with its place in the text."""
        if status != lib.SLEW_OK and text(error.key):
            reading, kept = self._reading(self._settings)
            reading.locate = error
            self._read(reading, ffi.new("slew_scenario *"))
            del kept
        raise_for(status, error)

    # ---- keys ----

    def set(self, key, value, layer="file"):
        """Sets a key as in a file: set("supply.main.voltage", "12 V").

        layer: "file", "teach", "today" or "deploy_day"; "spread": the value is a distribution,
        "uniform 11 V..14 V". The scenario is read and checked again; if that fails it stays as it
        was.
        """
        if isinstance(value, bool):
            value = "yes" if value else "no"
        settings = {place: was for place, was in self._settings.items() if place != (layer, key)}
        settings[layer, key] = str(value)
        self._take(settings)

    def get(self, key):
        """A key of the file with its unit, "12 V"; None where it is not given."""
        index = _find(key)
        length = lib.slew_key_format(self._c, index, ffi.NULL, 0)
        words = ffi.new("char[]", length + 1)
        lib.slew_key_format(self._c, index, words, length + 1)
        return text(words) or None

    def number(self, key):
        """A key of the file as a number in SI; NaN where it is not given or no number."""
        return lib.slew_scenario_get_number(self._c, _find(key))

    def copy(self):
        """A scenario of its own."""
        return self._of(self._source, self._name, dict(self._settings))

    __copy__ = copy

    def __deepcopy__(self, _memo):
        return self.copy()

    def __reduce__(self):
        return self._of, (self._source, self._name, self._settings)

    def __repr__(self):
        return f"<Scenario {self._name}: {self.title}>"

    @property
    def title(self):
        return text(self._c.title)

    @property
    def hash(self):
        """The fingerprint of its figures, as the tool prints it."""
        return f"{lib.slew_scenario_hash(self._c):016x}"

    # ---- one run ----

    def run(self, parts="stow_and_deploy"):
        """Runs it: a Run, with the Result and its events.

        parts: "stow_and_deploy", "stow_only" or "deploy_only"."""
        c = self._c
        heard = []
        keep = ffi.callback("void(void *, const slew_event *)",
                            lambda _, event: heard.append(to_python(event)))
        run, which = self._run(c, parts, Asking(), {"event": keep})
        run.events = tuple(heard)
        run.ok = lib.slew_result_ok(c, which, run._result)
        del run._result
        return run

    def trace(self, interval=0.005, parts="stow_and_deploy"):
        """Samples of a run every `interval` [s] and at each jump: a numpy array of records with the
        fields of slew_sample, trace["time"], trace["angle"][:, slewtime.ELEVATION] [rad]."""
        import numpy

        if not interval >= 0:
            raise ValueError(f"{interval!r}: not an interval")
        kept = bytearray()
        size = ffi.sizeof("slew_sample")
        keep = ffi.callback("void(void *, const slew_sample *)",
                            lambda _, sample: kept.extend(ffi.buffer(sample, size)))
        self._run(self._c, parts, Asking(), {"sample": keep, "interval": interval})
        return numpy.frombuffer(kept, dtype=_dtype(numpy, ffi.typeof("slew_sample")))

    def _run(self, c, parts, asking, observer):
        which = value_of("parts", parts)
        stop = ffi.callback("bool(void *)", lambda _: asking.stopped)
        look = ffi.new("slew_observer *", {**observer, "stop": stop})
        result, error = ffi.new("slew_result *"), ffi.new("slew_error *")
        self._raise_located(asking.finish(
            lambda: lib.slew_run(c, which, look, result, error)), error)
        run = to_python(result, Run)
        run._result = result
        return run, which

    # ---- many runs ----

    def offset(self, samples=None, *, finer=False, seed=None, threads=0, random=False,
               progress=None):
        """Which deploy seconds land inside the target, over the spread: slew_offset.

        samples: simulated days; seed, threads (0: all cores) and random as in slew_sampling.
        progress(done, samples) is called now and then; what it raises ends the question, and so
        does control-C. finer: also ask which seconds in between would do.
        """
        c = self._c
        out = ffi.gc(ffi.new("slew_offset *"), lib.slew_offset_free)
        sampling = _sampling(samples, seed, threads, random)
        self._ask(lambda error: lib.slew_offset_run(c, sampling, out, error), sampling, progress)
        between = ffi.new("slew_finer *") if finer else ffi.NULL
        if finer:
            self._ask(lambda error: lib.slew_finer_run(c, sampling, out, between, error), sampling,
                      progress)
        advice = ffi.new("slew_advice[]", lib.SLEW_ADVICE_MAX)
        count = lib.slew_offset_advise(c, out, between, c.demands.deploy_inside, advice)
        offset = to_python(out, Offset)
        offset.finer = to_python(between) if finer else None
        offset.advice = tuple(to_python(advice[i]) for i in range(count))
        return offset

    def plan(self, samples=None, *, seed=None, threads=0, random=False, progress=None):
        """What to set, teach, wire or fit so that it meets its demands: slew_plan."""
        c = self._c
        out, advice = ffi.new("slew_plan *"), ffi.new("slew_plan_advice *")
        sampling = _sampling(samples, seed, threads, random)
        self._ask(lambda error: lib.slew_plan_run(c, sampling, out, error), sampling, progress)
        lib.slew_plan_recommend(out, advice)
        plan = to_python(out, Plan)
        plan.advice = to_python(advice)
        for change, c_change in zip(plan.advice.change, advice.change):
            _say(change, c_change)
        for row, c_row in zip(plan.row, out.row):
            _say(row.change, c_row.change)
        return plan

    def margin(self, axis="elevation", wanted=0.001, samples=None, *, seed=None, threads=0,
               progress=None):
        """The clearance that a stow point needs from its hard stops: slew_margin."""
        c = self._c
        question = ffi.new("slew_margin_question *", [records.axis_of(axis), wanted])
        out = ffi.new("slew_margin *")
        sampling = _sampling(samples, seed, threads, True)
        self._ask(lambda error: lib.slew_margin_run(c, question, sampling, out, error), sampling,
                  progress)
        return to_python(out)

    def fit(self, csv, keys, *, bias=False, robust=False):
        """This truck's figures from a CSV of timed travels: slew_fit.

        keys: the paths of the keys to fit; or a dict of these with the standard deviation of what
        is known of each before, in SI, 0: the truck's spread, or what is usual. bias: the
        stopwatch too. It can't be stopped half way: control-C comes through at its end.
        """
        c = self._c
        timings = _timings(csv)
        known = keys if isinstance(keys, dict) else dict.fromkeys(keys, 0.0)
        indices = [_find(key) for key in known] + ([lib.SLEW_FIT_BIAS] if bias else [])
        if not 0 < len(indices) <= lib.SLEW_FIT_KEYS_MAX:
            raise ValueError(f"{len(indices)} keys to fit: 1 to {lib.SLEW_FIT_KEYS_MAX} are possible")
        question = ffi.new("slew_fit_question *", {
            "timings": timings, "keys": len(indices), "key": indices,
            "tolerance": list(known.values()), "robust": robust})
        out, error = ffi.new("slew_fit *"), ffi.new("slew_error *")
        status = Asking().finish(lambda: lib.slew_fit_run(c, question, out, error))
        if status != lib.SLEW_OK and error.line > 0:
            lib.slew_timings_locate(os.fsencode(csv), error)
            raise_for(status, error)
        self._raise_located(status, error)
        fit = to_python(out, Fit)
        reading, kept = self._reading(self._settings)
        fit._fit, fit._source, fit._kept = out, self._source.encode(), (reading, kept)
        fit._assignments = reading.assignments, reading.assignment_count
        return fit

    def _ask(self, call, sampling, progress):
        error = ffi.new("slew_error *")
        asking = Asking(progress, sampling.samples)
        told = asking.callback()
        sampling.progress = told
        self._raise_located(asking.finish(lambda: call(error)), error)


# ---- parts of the above ----

def _layer(layer):
    for number in range(lib.SLEW_LAYER_DEPLOY_DAY + 1):
        if (text(lib.slew_layer_word(number)) or "file") == layer:
            return number
    raise ValueError(f"{layer!r}: not a layer")


def _find(key):
    index = lib.slew_key_find(key.encode())
    if index < 0:
        near = lib.slew_key_nearest(key.encode())
        nearest = text(lib.slew_key_at(near).path) if near >= 0 else ""
        raise Error("input", "unknown key", key=key, nearest=nearest)
    return index


def _sampling(samples, seed, threads, random):
    sampling = ffi.new("slew_sampling *", lib.slew_sampling_default())
    if samples is not None:
        sampling.samples = samples
    if seed is not None:
        sampling.seed = seed
    sampling.threads = threads
    if random:
        sampling.points = lib.SLEW_PSEUDO_RANDOM
    return sampling


def _say(change, c_change):
    """A change of a plan in words, and what has to be set for it."""
    for name in ("plain", "to_set"):
        words = ffi.new("char[]", 400)
        getattr(lib, f"slew_plan_{name}")(ffi.addressof(c_change), words, len(words))
        setattr(change, name, text(words))


def _timings(csv):
    errors = []
    heard = ffi.callback(_SINK, lambda _, error: errors.append(from_c(error)))
    sink = ffi.new("slew_error_sink *", {"report": heard})
    timings = ffi.new("slew_timings *")
    raise_for(Asking().finish(lambda: lib.slew_timings_read_file(os.fsencode(csv), sink[0],
                                                                 timings)), found=errors)
    return timings


def _dtype(numpy, struct):
    """A struct of numbers as numpy lays it out."""
    names, formats, offsets = [], [], []
    for name, field in struct.fields:
        kind, shape = field.type, ()
        if kind.kind == "array":
            kind, shape = kind.item, (kind.length,)
        letter = {"double": "f", "_Bool": "?"}.get(kind.cname, "i")
        formats.append((letter if letter == "?" else f"{letter}{ffi.sizeof(kind)}", shape))
        names.append(name)
        offsets.append(field.offset)
    return numpy.dtype({"names": names, "formats": formats, "offsets": offsets,
                        "itemsize": ffi.sizeof(struct)})
