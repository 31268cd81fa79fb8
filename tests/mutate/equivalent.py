"""The mutants that no test can notice, with the reason of each, from equivalent.txt."""


def read(path):
    """By file, text of the line and change. An entry is four lines: these three and the reason."""
    named = {}
    with open(path) as file:
        blocks = [b for b in file.read().split('\n\n') if b.strip() and not b.startswith('#')]
    for block in blocks:
        lines = [line.strip() for line in block.strip().split('\n')]
        if len(lines) != 4 or not all(lines):
            raise SystemExit('%s: not file, line, change and reason:\n%s' % (path, block))
        named[tuple(lines[:3])] = lines[3]
    return named
