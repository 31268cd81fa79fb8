"""Names of structs and enums in Python, from those in C. build.py uses it too."""

from keyword import iskeyword
from os.path import commonprefix


def c_name(kind):
    """"slew_offset" of struct slew_offset."""
    return kind.cname.removeprefix("struct ").removeprefix("enum ")


def class_name(struct):
    """"OffsetChoice" of slew_offset_choice."""
    words = c_name(struct).removeprefix("slew_").split("_")
    return "".join(word.capitalize() for word in words)


def field_name(name):
    """"from_" of from, which Python keeps for itself."""
    return name + "_" if iskeyword(name) else name


def fields_of(struct):
    """The fields that Python shows, with their types: no functions, and nothing that belongs to
    the library alone (pointers to plain numbers)."""
    hidden = ("pointer", "function", "void")
    return [(name, field.type) for name, field in struct.fields or []
            if field.type.kind not in hidden or
            (field.type.kind == "pointer" and field.type.item.kind == "struct")]


def enum_words(enum):
    """The words of an enum's names: "stow" of SLEW_TASK_STOW, by value; not what counts them."""
    names = {value: enum.elements[value] for value in sorted(enum.elements)
             if not enum.elements[value].endswith("_COUNT")}
    common = commonprefix(list(names.values()))
    start = common.rfind("_") + 1
    return {value: name[start:].lower() for value, name in names.items()}
