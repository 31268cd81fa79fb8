"""Draws mutants of physics, motion, study and cli, runs the tests that reach each, and says how many
they notice. `make mutate` calls it; DEVELOPERS.md says what the figures mean.

Each mutant is one source compiled again into a shared library that stands before the library of all
others, so that nothing else is linked. It goes through the test programs that run its line, those that
found most in its file first, and is killed by the first that fails, crashes or takes too long. What is
left goes through them again under the address sanitizer, with leaks counted. What happened is
appended to a log, so that a run that was stopped goes on.
"""
import argparse
import json
import os
import shutil
import signal
import sys

import equivalent
from log import key_of, read_log, report, tried
from mutants import mutants, rank
from programs import ROOMS, compile_commands, in_workers, link_library, sources
from reach import Reach
from trial import Trial


def drawn(seed, texts):
    """All mutants in a random order, and so that a longer draw begins with the shorter."""
    return sorted((m for file, text in texts.items() for m in mutants(file, text)), key=lambda m: rank(seed, m))


class Bench:
    """The workers, and the log that they write."""

    def __init__(self, build, reach, texts, log, options):
        self.build, self.reach, self.texts, self.log = build, reach, texts, log
        self.workers, self.seconds = options.workers, options.seconds
        self.commands = compile_commands(build)

    def try_all(self, todo, count):
        """Tries mutants in their order until `count` compile."""
        before, trial = read_log(self.log), []

        def work(mutant):
            if not trial:
                trial.append(Trial(self.build, str(os.getpid()), self.reach, self.commands, self.texts,
                                   self.seconds))
                for entry in before.values():
                    if entry['verdict'] == 'killed':
                        trial[0].note('tests/' + entry['by'], entry['file'])
            if tried(read_log(self.log)) - tried(before) >= count:
                return False
            entry = trial[0].verdict(mutant)
            with open(self.log, 'a') as file:
                file.write(json.dumps(entry) + '\n')
            return True

        shutil.rmtree(self.build + '/trials', ignore_errors=True)
        in_workers(self.workers, todo, work)


def main():
    parser = argparse.ArgumentParser(description=__doc__.split('\n\n')[0])
    parser.add_argument('--build', default='build')
    parser.add_argument('--count', type=int, default=1000, help='how many that compile')
    parser.add_argument('--seed', type=int, default=1)
    parser.add_argument('--rooms', default=','.join(ROOMS))
    parser.add_argument('--seconds', type=float, default=60,
                        help='of a processor, of tests for a mutant that survives')
    parser.add_argument('--workers', type=int, default=os.cpu_count())
    parser.add_argument('--survivors', action='store_true',
                        help='try those that survived again, after tests are new')
    parser.add_argument('--at', metavar='FILE:LINE', action='append', default=[],
                        help='all mutants of a line, and no others')
    parser.add_argument('--report', action='store_true', help='only say what is in the log')
    options = parser.parse_args()
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))  # so that a test that runs is ended
    build, log_path = options.build + '/mutate', options.build + '/mutate/log-%d.jsonl' % options.seed
    # read once: who looks at what survives may change them meanwhile
    texts = {file: open(file).read() for room in options.rooms.split(',') for file in sources(room)}
    order = drawn(options.seed, texts)
    named = equivalent.read('tests/mutate/equivalent.txt')
    if not options.report:
        os.makedirs(build, exist_ok=True)
        link_library(build)
        reach = Reach(options.build + '/cover', options.workers, options.rooms.split(','))
        bench = Bench(build, reach, texts, log_path, options)
        log = read_log(log_path)
        if options.at:
            chosen = [m for m in order if '%s:%d' % (m.file, m.line) in options.at]
            bench.try_all(chosen, len(chosen))
            log = read_log(log_path)
            for entry in (log[key_of(m)] for m in chosen):
                print('%-10s %s:%d %s: %s' % (entry['verdict'], entry['file'], entry['line'],
                                              entry['change'], entry.get('by', '')))
            return
        elif options.survivors:
            survive = [m for m in order if log.get(key_of(m), {}).get('verdict') == 'survives']
            bench.try_all([m for m in survive if key_of(m) not in named], len(log))
        else:
            bench.try_all([m for m in order if key_of(m) not in log], options.count - tried(log))
    for entry in report(read_log(log_path), order, named, options.count):
        if entry['verdict'] == 'survives':
            print('%s:%d: %s: %s' % (entry['file'], entry['line'], entry['text'], entry['change']))


if __name__ == '__main__':
    main()
