"""Counts the branches that no test took, from gcovr's JSON on stdin.

    gcovr ... --json - | report.py UNREACHED lib=95 cli=92

UNREACHED has a line for each function that keeps branches for a reason: file, function, why. Fails
where a room is under its percentage, whatever the reasons.
"""
import json
import sys
from collections import Counter

SHOWN = 40


def function_of(functions, line):
    before = [f for f in functions if f["lineno"] <= line]
    return max(before, key=lambda f: f["lineno"])["name"] if before else "-"


def read_reasons(path):
    reasons = {}
    with open(path, encoding="utf-8") as lines:
        for number, line in enumerate(lines, 1):
            words = [] if line.startswith("#") else line.split(None, 2)
            if words and len(words) < 3:
                sys.exit(f"{path}:{number}: file, function and reason are expected")
            if words:
                reasons[words[0], words[1]] = words[2].strip()
    return reasons


def main():
    reasons = read_reasons(sys.argv[1])
    least = {room: float(value) for room, value in (a.split("=") for a in sys.argv[2:])}
    total, never, where, by_file = Counter(), Counter(), {}, Counter()
    for file in json.load(sys.stdin)["files"]:
        for line in file["lines"]:
            branches = [] if line["gcovr/excluded"] else line["branches"]
            count = sum(b["count"] == 0 for b in branches)
            total[file["file"].split("/")[0]] += len(branches)
            if count:
                key = file["file"], function_of(file["functions"], line["line_number"])
                never[key] += count
                by_file[file["file"]] += count
                where.setdefault(key, []).append(str(line["line_number"]))
    open_ones = [(n, key) for key, n in never.items() if key not in reasons]
    print("most never taken, by function:")
    for count, key in sorted(open_ones, reverse=True)[:SHOWN]:
        print(f"{count:5} {key[0]} {key[1]}: {' '.join(where[key])}")
    print("by file:")
    for name, count in by_file.most_common(SHOWN):
        print(f"{count:5} {name}")
    for key, why in reasons.items():
        print(f"{never[key]:5} {key[0]} {key[1]}: {why}" if never[key] else
              f"      {key[0]} {key[1]} has no such branch any more: its line can go")
    bad, told = False, []
    for room, value in least.items():
        gone = sum(n for name, n in by_file.items() if name.startswith(room + "/"))
        share = 100 * (1 - gone / total[room])
        told.append(f"{room} {share:.2f} % of {total[room]} ({value:g} wanted)")
        bad |= share < value
    explained = sum(n for key, n in never.items() if key in reasons)
    print(f"branches taken: {', '.join(told)}; {explained} of {sum(never.values())} others explained")
    sys.exit(bad)


if __name__ == "__main__":
    main()
