"""Types of _errors.py."""

class Error(Exception):
    status: str
    message: str
    file: str
    line: int
    column: int
    key: str
    expected: str
    nearest: str
    excerpt: str
    errors: tuple[Error, ...]
    def __init__(self, status: str, message: str, *, file: str = "", line: int = 0,
                 column: int = 0, key: str = "", expected: str = "", nearest: str = "",
                 excerpt: str = "") -> None: ...
