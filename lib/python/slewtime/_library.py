"""The shared library, found beside this module wherever both were moved, and checked against the
headers that the module was made from."""

import pathlib

from ._declarations import ffi
from ._soname import SONAME


def _open():
    beside = pathlib.Path(__file__).resolve().parents[3] / SONAME
    library = ffi.dlopen(str(beside) if beside.exists() else SONAME)
    sizes = [ffi.sizeof(f"slew_{name}")
             for name in ("scenario", "setup", "prepared", "result", "machine", "error")]
    layout = ffi.new("slew_layout *", [library.SLEW_DECLARED_VERSION, *sizes])
    if library.slew_check_layout(layout) != library.SLEW_OK:
        version = ffi.string(library.slew_version()).decode()
        raise ImportError(f"slewtime: the library found is {version}, another than this module's")
    return library


lib = _open()


def text(pointer):
    """A C string as str."""
    return ffi.string(pointer).decode("utf-8", "replace")


def owned_text(pointer):
    """The same of a string that is the caller's to free; None of NULL."""
    if pointer == ffi.NULL:
        return None
    words = text(pointer)
    lib.free(pointer)
    return words
