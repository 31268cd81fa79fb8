"""Counts the branches that no test took, from gcovr's JSON on stdin.

    gcovr ... --json - | report.py UNREACHED lib=95 cli=92

UNREACHED has a line for each function that keeps branches no test takes: file, function, how many at
most, and why. It fails when a room is under its percentage, whatever the reasons, and when a function
misses more than its line says.
"""
import json
import sys
from collections import Counter


def function_of(functions, line):
    before = [f for f in functions if f["lineno"] <= line]
    return max(before, key=lambda f: f["lineno"])["name"] if before else "-"


def read_reasons(path):
    reasons = {}
    with open(path, encoding="utf-8") as lines:
        for number, line in enumerate(lines, 1):
            if line.strip() and not line.startswith("#"):
                words = line.split(None, 3)
                if len(words) < 4 or not words[2].isdigit():
                    sys.exit(f"{path}:{number}: file, function, count and reason are expected")
                reasons[words[0], words[1]] = int(words[2])
    return reasons


def main():
    reasons = read_reasons(sys.argv[1])
    least = {room: float(value) for room, value in (a.split("=") for a in sys.argv[2:])}
    total, missed, where = Counter(), Counter(), {}
    for file in json.load(sys.stdin)["files"]:
        room = file["file"].split("/")[0]
        for line in file["lines"]:
            branches = [] if line["gcovr/excluded"] else line["branches"]
            never = sum(b["count"] == 0 for b in branches)
            total[room] += len(branches)
            if never:
                key = file["file"], function_of(file["functions"], line["line_number"])
                missed[key] += never
                where.setdefault(key, []).append(line["line_number"])
    bad, told = False, []
    for (name, function), count in sorted(missed.items()):
        if count > reasons.get((name, function), 0):
            lines = " ".join(map(str, where[name, function]))
            print(f"{name} {function}: {count} never taken, lines {lines}")
            bad = True
    for (name, function), count in sorted(reasons.items()):
        if missed[name, function] < count:
            print(f"{name} {function}: {missed[name, function]}, not {count}: make its line less")
    by_file = Counter()
    for (name, _), count in missed.items():
        by_file[name] += count
    print("most never taken:")
    for name, count in by_file.most_common(10):
        print(f"{count:5} {name}")
    for room, value in least.items():
        gone = sum(n for name, n in by_file.items() if name.startswith(room + "/"))
        share = 100 * (1 - gone / total[room])
        told.append(f"{room} {share:.2f} % of {total[room]} ({value:g} wanted)")
        bad |= share < value
    print(f"branches taken: {', '.join(told)}")
    sys.exit(bad)


if __name__ == "__main__":
    main()
