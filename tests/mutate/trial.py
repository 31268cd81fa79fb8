"""One mutant tried: compiled, put before the library, and run through the tests that reach its line."""
import collections
import glob
import math
import os
import selectors
import signal
import subprocess
import time

from mutants import applied
from programs import COMPILER, copy_tree, program, program_name, room_of, run

NOTICED = ['-fsanitize=undefined', '-fsanitize-undefined-trap-on-error']
FIRST = 3      # seconds of tests before the compiler is asked whether it sees a difference
WATCHED = 0.25  # of the seconds, under the address sanitizer
ANSWERS = 'tests/cli/cli_answers'


def folder(mutant):
    return mutant.file.split('/')[-2]


def answers_by_folder():
    """Of each command with a folder in cli and answers of its own, their share of all."""
    names = [os.path.basename(name) for name in glob.glob('tests/cli/answers/*.txt')]
    share = {}
    for name in os.listdir('cli'):
        own = sum(n.startswith((name + '-', name + '.')) for n in names)
        if own:
            share[name] = own / len(names)
    return share


def ending(child, end):
    """None if the test succeeds, or why it does not: known from its first word of a failure."""
    said = b''
    with selectors.DefaultSelector() as wait:
        wait.register(child.stdout, selectors.EVENT_READ)
        while True:
            if not wait.select(1):
                if time.monotonic() > end:
                    return 'time'
                continue
            part = os.read(child.stdout.fileno(), 65536)
            said = (said + part)[-20000:]
            if b'[  FAILED  ]' in said:
                return 'fails'
            if not part:
                break
    code = child.wait()
    if code == 0:
        return None
    if b'AddressSanitizer' in said and b'LeakSanitizer' not in said:
        return 'sanitizer'
    return 'time' if code == -signal.SIGXCPU else 'crashes' if code < 0 else 'fails'


class Trial:
    """What tries mutants, in a folder of its own."""

    def __init__(self, build, name, reach, commands, texts, budget):
        self.build, self.reach, self.commands, self.texts = os.path.abspath(build), reach, commands, texts
        self.place = '%s/trials/%s' % (self.build, name)
        self.budget = budget
        self.tree = self.place + '/tree'
        copy_tree(self.tree)
        self.found = collections.Counter()  # kills by test and file, by test and room
        self.sound, self.objects, self.answers = {}, {}, answers_by_folder()

    def compile(self, mutant, more, changed=True):
        """Whether the source with its change compiles; without a mutant changed, as it is."""
        source = self.texts[mutant.file]
        with open(self.place + '/source.c', 'w') as file:
            file.write('#line 1 "%s"\n%s' % (mutant.file, applied(mutant, source) if changed else source))
        return subprocess.run('%s -w -I%s %s -c %s/source.c -o %s/patch.o' % (
            self.commands[mutant.file], os.path.dirname(mutant.file), ' '.join(more), self.place, self.place),
            shell=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL).returncode == 0

    def link(self, more):
        run(COMPILER + more + ['-shared', '-Wl,-soname,libpatch.so', '-o', self.place + '/libpatch.so',
                               self.place + '/patch.o'])

    def is_same(self, mutant):
        """Whether the compiler makes the same of the source with its change as without."""
        self.compile(mutant, ['-O2'])
        changed = self.object()
        if mutant.file not in self.objects:
            self.compile(mutant, ['-O2'], False)
            self.objects[mutant.file] = self.object()
        return changed == self.objects[mutant.file]

    def object(self):
        with open(self.place + '/patch.o', 'rb') as file:
            return file.read()

    def passes(self, test, kind, mutant):
        """None, or why the test fails."""
        seconds = self.reach.seconds[test] * (6 if kind == 'watched' else 3) + 5
        environment = dict(os.environ, SLEWTIME_TOOL=program(self.build, kind, 'slewtime'), SLEWTIME_BUILD=self.place,
                           MALLOC_PERTURB_='165', SLEWTIME_GNUPLOT_SECONDS='600',
                           SLEWTIME_FMU=self.build + '/fmu.so',
                           ASAN_OPTIONS='detect_leaks=1:exitcode=99:detect_odr_violation=0')
        if mutant:
            environment['LD_LIBRARY_PATH'] = self.place
            if folder(mutant) in self.answers:
                environment['SLEWTIME_ANSWERS'] = folder(mutant)
        child = subprocess.Popen(['prlimit', '--cpu=%d' % math.ceil(seconds), '--fsize=500000000', '--core=0'] +
                                 ([] if kind == 'watched' else ['--as=6000000000']) +
                                 [program(self.build, kind, program_name(test))], cwd=self.tree, env=environment,
                                 stdout=subprocess.PIPE, stderr=subprocess.STDOUT, stdin=subprocess.DEVNULL,
                                 start_new_session=True)
        try:
            return ending(child, time.monotonic() + 40 * seconds + 60)
        finally:
            try:
                os.killpg(child.pid, signal.SIGKILL)
            except ProcessLookupError:
                pass
            child.wait()
            child.stdout.close()

    def is_sound(self, test, kind):
        """Whether the test passes on the library as it is."""
        if (test, kind) not in self.sound:
            self.sound[test, kind] = self.passes(test, kind, None) is None
            if not self.sound[test, kind]:
                print('left out: %s does not pass on the library as it is (%s)' % (program_name(test), kind), flush=True)
        return self.sound[test, kind]

    def note(self, test, file):
        """That the test has found a mutant of the file."""
        self.found[test, file] += 1
        self.found[test, room_of(file)] += 1

    def late(self, mutant):
        """The tests of the mutant's room that take long, if there is time."""
        return [t for t in self.reach.late if folder(mutant) in t and self.budget > self.reach.seconds[t]]

    def seconds(self, test, mutant):
        """What the test takes; of the answers, those of the mutant's command."""
        seconds = self.reach.seconds[test]
        return seconds * self.answers.get(folder(mutant), 1) if test == ANSWERS else seconds

    def tests_of(self, mutant):
        """The tests that reach the mutant: first those that promise most for their time."""
        def promise(test):
            part = os.path.basename(mutant.file).split('_')[0].split('.')[0]
            near = 0.5 * (part in test) + 0.3 * (folder(mutant) in test)
            found = self.found[test, mutant.file] + 0.05 * self.found[test, room_of(mutant.file)]
            return self.seconds(test, mutant) / (found + near + 0.05)
        return sorted(self.reach.of(mutant), key=promise) + self.late(mutant)

    def kill(self, mutant, tests, kind, budget):
        """Runs tests from the first on, and takes them from the list, while seconds are left. The test
        that fails and why, or None."""
        while tests and budget > 0:
            test = tests.pop(0)
            budget -= self.seconds(test, mutant)
            why = self.passes(test, kind, mutant)
            if why and self.is_sound(test, kind):
                self.note(test, mutant.file)
                return {'by': program_name(test), 'why': why, 'kind': kind}
        return None

    def verdict(self, mutant):
        result = {'file': mutant.file, 'text': mutant.text, 'change': mutant.change, 'line': mutant.line}
        began = time.monotonic()
        if not self.compile(mutant, NOTICED):
            return dict(result, verdict='no program')
        tests = self.tests_of(mutant)
        self.link([])
        by = self.kill(mutant, tests, 'plain', FIRST)
        if by is None and self.is_same(mutant):
            result['verdict'] = 'same object'
        else:
            by = by or self.kill(mutant, tests, 'plain', self.budget - FIRST)
            left = len(tests)
            if by is None and self.budget >= 10:
                self.compile(mutant, NOTICED + ['-fsanitize=address'])
                self.link(['-fsanitize=address'])
                by = self.kill(mutant, self.tests_of(mutant), 'watched', WATCHED * self.budget)
            result.update(by or {'left': left}, verdict='killed' if by else 'survives')
        return dict(result, seconds=round(time.monotonic() - began, 2))
