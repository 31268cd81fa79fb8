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

import equivalent
from log import key_of, read_log, report, tried
from mutants import mutants, rank
from programs import ROOMS, compile_commands, in_workers, link_programs, sources
from reach import Reach
from trial import Trial


def drawn(seed, texts):
    """All mutants in a random order, and so that a longer draw begins with the shorter."""
    return sorted((m for file, text in texts.items() for m in mutants(file, text)), key=lambda m: rank(seed, m))


class Bench:
    """The workers, and the log that they write."""

    def __init__(self, build, reach, texts, log, workers):
        self.build, self.reach, self.texts, self.log, self.workers = build, reach, texts, log, workers
        self.commands = compile_commands(build)

    def try_all(self, todo, deep, count):
        """Tries mutants in their order until `count` compile."""
        before, trial = read_log(self.log), []

        def work(mutant):
            if not trial:
                trial.append(Trial(self.build, str(os.getpid()), self.reach, self.commands, self.texts))
                for entry in before.values():
                    if entry['verdict'] == 'killed':
                        trial[0].found['tests/' + entry['by'], entry['file']] += 1
            if deep or tried(read_log(self.log)) - tried(before) < count:
                entry = trial[0].verdict(mutant, deep)
                with open(self.log, 'a') as file:
                    file.write(json.dumps(entry) + '\n')

        shutil.rmtree(self.build + '/trials', ignore_errors=True)
        # of those drawn, one in some ten does not compile
        in_workers(self.workers, todo[:max(0, count) * 2 + 20 if not deep else None], work)


def main():
    parser = argparse.ArgumentParser(description=__doc__.split('\n\n')[0])
    parser.add_argument('--build', default='build')
    parser.add_argument('--count', type=int, default=1000, help='how many that compile')
    parser.add_argument('--seed', type=int, default=1)
    parser.add_argument('--rooms', default=','.join(ROOMS))
    parser.add_argument('--workers', type=int, default=os.cpu_count())
    parser.add_argument('--quick', action='store_true', help='not the long look at those that survive the first')
    parser.add_argument('--survivors', action='store_true', help='try those that survived again, after tests are new')
    parser.add_argument('--report', action='store_true', help='only say what is in the log')
    options = parser.parse_args()
    build, log_path = options.build + '/mutate', options.build + '/mutate/log-%d.jsonl' % options.seed
    # read once: who looks at what survives may change them meanwhile
    texts = {file: open(file).read() for room in options.rooms.split(',') for file in sources(room)}
    order = drawn(options.seed, texts)
    named = equivalent.read('tests/mutate/equivalent.txt')
    if not options.report:
        os.makedirs(build, exist_ok=True)
        link_programs(build, options.quick)
        reach = Reach(options.build + '/cover', options.workers, options.rooms.split(','))
        bench = Bench(build, reach, texts, log_path, options.workers)
        log = read_log(log_path)
        if not options.survivors:
            bench.try_all([m for m in order if key_of(m) not in log], False, options.count - tried(log))
        log = read_log(log_path)
        left = [m for m in order if log.get(key_of(m), {}).get('verdict') == 'survives' and key_of(m) not in named]
        if not options.quick:
            bench.try_all(left if options.survivors else [m for m in left if not log[key_of(m)]['deep']], True, len(left))
    for entry in report(read_log(log_path), order, named, options.count):
        if entry['verdict'] == 'survives':
            print('%s:%d: %s: %s' % (entry['file'], entry['line'], entry['text'], entry['change']))


if __name__ == '__main__':
    main()
