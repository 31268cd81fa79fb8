"""What is known of each mutant tried, one JSON object a line, and what it comes to."""
import collections
import json
import math
import os

from programs import ROOMS, room_of


def key_of(mutant):
    return (mutant.file, mutant.text, mutant.change) if hasattr(mutant, 'file') else (
        mutant['file'], mutant['text'], mutant['change'])


def read_log(path):
    log = {}
    if os.path.exists(path):
        with open(path) as file:
            for line in file:
                entry = json.loads(line)
                log[key_of(entry)] = entry
    return log


def tried(log):
    return sum(e['verdict'] != 'no program' for e in log.values())


def wilson(share, count):
    z = 1.959964
    middle = (share + z * z / (2 * count)) / (1 + z * z / count)
    half = z / (1 + z * z / count) * math.sqrt(share * (1 - share) / count + z * z / (4 * count * count))
    return middle - half, middle + half


def line_of(name, entries):
    """One line of the report: of those that compile, how many are killed of those not equivalent."""
    count = collections.Counter(e['verdict'] for e in entries)
    compiled = len(entries) - count['no program']
    different = count['killed'] + count['survives']
    if different == 0:
        return '%-8s nothing tried' % name
    low, high = wilson(count['killed'] / different, different)
    return '%-8s %5d %8d %6d %10d %8d %8.1f %% (%.1f to %.1f)' % (
        name, len(entries), compiled, count['killed'], count['same object'] + count['equivalent'], count['survives'],
        100 * count['killed'] / different, 100 * low, 100 * high)


def report(log, order, named, count):
    """The first so many that compile, in the order in which they were drawn."""
    entries = []
    for mutant in order:
        entry = log.get(key_of(mutant))
        if entry is None:
            break
        if entry['verdict'] == 'survives' and key_of(entry) in named:
            entry = dict(entry, verdict='equivalent')
        entries.append(entry)
        if sum(e['verdict'] != 'no program' for e in entries) == count:
            break
    print('room     drawn compiled killed equivalent surviving  killed of those not equivalent, 95 %')
    for room in ROOMS:
        print(line_of(room, [e for e in entries if room_of(e['file']) == room]))
    print(line_of('all', entries))
    seconds = [e['seconds'] for e in entries if 'seconds' in e]
    if seconds:
        why = collections.Counter(e.get('why') for e in entries if e['verdict'] == 'killed')
        print('%.1f s a mutant; killed as a test %s' % (
            sum(seconds) / len(seconds), ', '.join('%s %d' % pair for pair in why.most_common())))
    return entries
