"""Errors of the library as exceptions."""

from ._library import ffi, lib, text
from ._names import enum_words

_STATUS = {value: word.removeprefix("error_")
           for value, word in enum_words(ffi.typeof("slew_status")).items()}


class Error(Exception):
    """What is wrong, and where. A text that does not apply is "", a number 0.

    status: "input", "teach", "file", ... as slew_status has it. file, line, column: where it
    stands. key: the key's path. message: what is wrong. expected: what was expected. nearest: the
    nearest known key or word. excerpt: the line as it stands. errors: all that were found, this
    one first.
    """

    def __init__(self, status, message, *, file="", line=0, column=0, key="", expected="",
                 nearest="", excerpt=""):
        self.status, self.message, self.file, self.line, self.column = (
            status, message, file, line, column)
        self.key, self.expected, self.nearest, self.excerpt = key, expected, nearest, excerpt
        self.errors = (self,)
        super().__init__(self._words())

    def _words(self):
        place = self.file
        if self.line:
            place += f":{self.line}:{self.column}"
        words = ": ".join(part for part in (place, self.key, self.message) if part)
        if self.expected:
            words += f"; expected {self.expected}"
        if self.nearest:
            words += f"; did you mean {self.nearest}?"
        return words

    def __reduce__(self):
        return _again, ({name: value for name, value in vars(self).items() if name != "errors"},)


def _again(fields):
    return Error(fields.pop("status"), fields.pop("message"), **fields)


def from_c(error):
    """An Error of a slew_error."""
    return Error(_STATUS[error.status], text(error.message), file=text(error.source),
                 line=error.line, column=error.column, key=text(error.key),
                 expected=text(error.expected), nearest=text(error.nearest),
                 excerpt=text(error.excerpt))


def raise_for(status, error=None, found=()):
    """Raises what a status other than SLEW_OK means: the errors found, else `error`."""
    if status == lib.SLEW_OK:
        return
    if status == lib.SLEW_ERROR_MEMORY:
        raise MemoryError("slewtime: memory is short")
    if found:
        found[0].errors = tuple(found)
        raise found[0]
    if error is not None and text(error.message):
        raise from_c(error)
    raise Error(_STATUS[status], "an argument is out of its range")
