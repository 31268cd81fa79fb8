"""Writes what the module has from the public headers: _declarations.py and records.pyi.

usage: build.py FOLDER < DECLARATIONS

Called by `make install`, so that neither a compiler nor a parser of C is needed where the module is
imported, and no struct is written down twice.
"""

import pathlib
import sys

import cffi

sys.path.insert(0, str(pathlib.Path(__file__).parent / "slewtime"))
from _names import c_name, class_name, field_name, fields_of  # noqa: E402

HEAD = '''"""The structs of the headers as Python shows them; names, units and meanings are those of
slewtime/*.h. Written by lib/python/build.py from these."""

from typing import Any, Optional

from ._errors import Error

class Record:
    def _asdict(self) -> dict[str, Any]: ...
'''


def python_type(name, field):
    """What records.to_python makes of a field."""
    if c_name(field) == "slew_error":
        return "Optional[Error]"
    if field.kind == "struct":
        return class_name(field)
    if field.kind == "enum":
        return "str"
    if field.kind in ("array", "pointer"):
        if field.item.cname == "char":
            return "str"
        return f"tuple[{python_type('', field.item)}, ...]"
    if name in ("axis", "fault_axis", "key") and field.cname == "int":
        return "Optional[str]"
    return {"double": "float", "_Bool": "bool"}.get(field.cname, "int")


def stub(ffi):
    text = HEAD
    for name in ffi.list_types()[0]:
        try:
            struct = ffi.typeof(name)
        except cffi.CDefError:  # a function
            continue
        if struct.kind == "struct" and name != "slew_error":
            text += f"\nclass {class_name(struct)}(Record):\n"
            text += "".join(f"    {field_name(field)}: {python_type(field, kind)}\n"
                            for field, kind in fields_of(struct)) or "    pass\n"
    return text


def main(folder):
    ffi = cffi.FFI()
    ffi.cdef(sys.stdin.read())
    ffi.cdef("void free(void *);")
    ffi.set_source("slewtime._declarations", None)
    (folder / "records.pyi").write_text(stub(ffi))
    ffi.emit_python_code(str(folder / "_declarations.py"))


if __name__ == "__main__":
    main(pathlib.Path(sys.argv[1]))
