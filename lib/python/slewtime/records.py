"""Structs of the library as plain Python objects.

There is a class for each struct of the headers (Result of slew_result), with its fields under their
names and in SI. An enum is its word ("stowed"; "none" of none), an axis "rotation", "elevation" or None, a key its
path; a list ends where its count says, and an error is an Error or None.
"""

from ._errors import from_c
from ._library import ffi, lib, text
from ._names import c_name, class_name, enum_words, field_name, fields_of

# lists, and the field that says how long each is
_COUNTS = {
    "slew_result": {"visit": "visit_count"},
    "slew_offset": {"choice": "count"},
    "slew_plan": {"row": "count"},
    "slew_plan_together": {"change": "count"},
    "slew_plan_advice": {"change": "count"},
    "slew_plan_curve": {"at": "count", "judgment": "count"},
    "slew_margin_side": {"step": "step_count"},
    "slew_fit": {"figure": "figures", "correlation": "figures", "reading": "readings",
                 "blur": "blurs"},
    "slew_timings": {"row": "count"},
}


class Record:
    """A struct; see the header that declares it for meaning and units."""

    def _asdict(self):
        """As dict, with all that is inside."""
        return {name: _plain(value) for name, value in vars(self).items()}

    def __repr__(self):
        fields = ", ".join(f"{name}={value!r}" for name, value in vars(self).items())
        return f"{type(self).__name__}({fields})"

    def __eq__(self, other):
        return type(self) is type(other) and vars(self) == vars(other)

    __hash__ = None


def _plain(value):
    if isinstance(value, Record):
        return value._asdict()
    return tuple(map(_plain, value)) if isinstance(value, tuple) else value


# ---- words ----

def _word_function(enum):
    """What the library calls its words: slew_event_word of slew_event_kind; None: it has none."""
    name = c_name(enum)
    short = name.removesuffix("_kind").removesuffix("_id")
    for function in (f"{name}_word", f"{short}_word", f"{name}_words"):
        if hasattr(lib, function):
            return getattr(lib, function)
    return None


def _words_of(enum):
    function = _word_function(enum)
    if function is None:
        return enum_words(enum)
    return {value: text(function(value)) for value in enum_words(enum)}


_words = {}  # of each enum, once asked


def _enum(kind):
    if kind.cname not in _words:
        _words[kind.cname] = _words_of(kind)
    return _words[kind.cname]


def words(enum):
    """The words of an enum of the headers in the order of its values: words("demand")."""
    return tuple(_enum(ffi.typeof(f"slew_{enum}")).values())


def value_of(enum, word):
    """The value of an enum's word."""
    by_value = _enum(ffi.typeof(f"slew_{enum}"))
    for value, name in by_value.items():
        if name == word:
            return value
    raise ValueError(f"{word!r}: not one of {', '.join(map(repr, by_value.values()))}")


AXES = tuple(text(lib.slew_axis_word(axis)) for axis in range(lib.SLEW_AXES))


def axis_of(axis):
    """The number of an axis that is given by its word or number."""
    if axis in AXES:
        return AXES.index(axis)
    if axis in range(lib.SLEW_AXES):
        return axis
    raise ValueError(f"{axis!r}: not one of {', '.join(map(repr, AXES))}")


def _key(struct, index):
    if c_name(struct).startswith("slew_fit"):
        return text(lib.slew_fit_name(index))
    row = lib.slew_key_at(index)
    return text(row.path) if row != ffi.NULL else None


# ---- values ----

def _value(value, kind, count=None):
    if kind.kind == "struct":
        return to_python(value)
    if kind.kind == "enum":
        return _enum(kind).get(int(ffi.cast("int", value)), "none")
    if kind.kind == "array" and kind.item.cname == "char":
        return text(value)
    if kind.kind in ("array", "pointer"):
        inner = count if kind.item.kind == "array" and kind.item.length == kind.length else None
        length = kind.length if count is None else count
        return tuple(_value(value[i], kind.item, inner) for i in range(length))
    return value


def field(cdata, name):
    """One field of a struct as Python shows it."""
    struct = ffi.typeof(cdata)
    return _field(struct, cdata, name, dict(struct.fields)[name].type)


def _field(struct, cdata, name, kind):
    value = getattr(cdata, name)
    if kind.cname == "int" and name in ("axis", "fault_axis"):
        return AXES[value] if 0 <= value < len(AXES) else None
    if kind.cname == "int" and name == "key":
        return _key(struct, value)
    counted = _COUNTS.get(c_name(struct), {}).get(name)
    count = min(getattr(cdata, counted), kind.length if kind.kind == "array" else 2**31) \
        if counted else None
    return _value(value, kind, count)


def to_python(cdata, cls=None):
    """A struct, or what a pointer to one points at, as a record of its class, or of `cls`."""
    struct = ffi.typeof(cdata)
    struct = struct.item if struct.kind == "pointer" else struct
    if c_name(struct) == "slew_error":
        return from_c(cdata) if text(cdata.message) else None
    record = object.__new__(cls or globals()[class_name(struct)])
    for name, kind in fields_of(struct):
        setattr(record, field_name(name), _field(struct, cdata, name, kind))
    return record


def _make_classes():
    for name in ffi.list_types()[0]:
        try:
            struct = ffi.typeof(name)
        except ffi.error:  # a function
            continue
        if struct.kind == "struct" and name != "slew_error":
            globals()[class_name(struct)] = type(
                class_name(struct), (Record,), {"__doc__": f"{name} of the headers.",
                                                "__module__": __name__})


_make_classes()
