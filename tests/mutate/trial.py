"""One mutant tried: compiled, put before the library, and run through the tests that reach its line."""
import collections
import math
import os
import selectors
import signal
import subprocess
import time

from mutants import applied
from programs import COMPILER, copy_tree, program_name, run

NOTICED = ['-fsanitize=undefined', '-fsanitize-undefined-trap-on-error']
QUICK, DEEP = 3, 60  # seconds of tests for a mutant: at first, and for one that survives these


class Trial:
    """What tries mutants, in a folder of its own."""

    def __init__(self, build, name, reach, commands, texts):
        self.build, self.reach, self.commands, self.texts = os.path.abspath(build), reach, commands, texts
        self.place = '%s/trials/%s' % (self.build, name)
        self.tree = self.place + '/tree'
        copy_tree(self.tree)
        self.found = collections.Counter()  # kills by (test, file)
        self.sound, self.objects = {}, {}

    def compile(self, mutant, more, changed=True):
        """Whether the source with its change compiles; without a mutant changed, as it is."""
        source = self.texts[mutant.file]
        with open(self.place + '/source.c', 'w') as file:
            file.write('#line 1 "%s"\n%s' % (mutant.file, applied(mutant, source) if changed else source))
        return subprocess.run('%s -w -I%s %s -c %s/source.c -o %s/patch.o' % (
            self.commands[mutant.file], os.path.dirname(mutant.file), ' '.join(more), self.place, self.place),
            shell=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL).returncode == 0

    def link(self, more):
        run(COMPILER + more + ['-shared', '-Wl,-soname,libpatch.so', '-o', self.place + '/libpatch.so', self.place + '/patch.o'])

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

    def passes(self, test, kind, patched):
        """None, or why the test fails."""
        seconds = self.reach.seconds[test] * (6 if kind == 'watched' else 3) + 5
        environment = dict(os.environ, SLEWTIME_TOOL='%s/%s/slewtime' % (self.build, kind), SLEWTIME_BUILD=self.place,
                           MALLOC_PERTURB_='165', SLEWTIME_FMU=self.build + '/fmu.so',
                           ASAN_OPTIONS='detect_leaks=1:exitcode=99:detect_odr_violation=0')
        if patched:
            environment['LD_LIBRARY_PATH'] = self.place
        child = subprocess.Popen(['prlimit', '--cpu=%d' % math.ceil(seconds), '--fsize=500000000', '--core=0'] +
                                 ([] if kind == 'watched' else ['--as=6000000000']) +
                                 ['%s/%s/%s' % (self.build, kind, program_name(test))], cwd=self.tree, env=environment,
                                 stdout=subprocess.PIPE, stderr=subprocess.STDOUT, stdin=subprocess.DEVNULL,
                                 start_new_session=True)
        said, why, end = b'', None, time.monotonic() + 40 * seconds + 60
        with selectors.DefaultSelector() as wait:
            wait.register(child.stdout, selectors.EVENT_READ)
            while why is None:
                if not wait.select(1):
                    if child.poll() is not None:
                        break
                    if time.monotonic() > end:
                        why = 'time'
                    continue
                part = os.read(child.stdout.fileno(), 65536)
                if not part:
                    break
                said = (said + part)[-20000:]
                if b'[  FAILED  ]' in said:
                    why = 'fails'
        if why is None:
            code = child.wait()
            why = None if code == 0 else 'time' if code == -signal.SIGXCPU else 'crashes' if code < 0 else 'fails'
        try:
            os.killpg(child.pid, signal.SIGKILL)
        except ProcessLookupError:
            pass
        child.wait()
        child.stdout.close()
        if why and b'AddressSanitizer' in said and b'LeakSanitizer' not in said:
            why = 'sanitizer'
        return why

    def is_sound(self, test, kind):
        """Whether the test passes on the library as it is."""
        if (test, kind) not in self.sound:
            self.sound[test, kind] = self.passes(test, kind, False) is None
            if not self.sound[test, kind]:
                print('left out: %s does not pass on the library as it is (%s)' % (program_name(test), kind), flush=True)
        return self.sound[test, kind]

    def late(self, mutant):
        """The tests of the mutant's room that take long."""
        room = mutant.file.split('/')[-2]
        return [t for t in self.reach.late if room in t]

    def kill(self, mutant, kind, deep):
        """The test that fails and why, or None; and whether all that reach the mutant were run."""
        def promise(test):
            part = os.path.basename(mutant.file).split('_')[0].split('.')[0]
            near = 0.5 * (part in test) + 0.3 * (mutant.file.split('/')[-2] in test)
            return self.reach.seconds[test] / (self.found[test, mutant.file] + near + 0.05)
        budget, late = (DEEP, self.late(mutant)) if deep else (QUICK, [])
        # of the library, the tests of its rooms at first
        reach = [t for t in self.reach.of(mutant)
                 if deep or mutant.file.startswith('cli/') or not t.startswith('tests/cli/')]
        for test in sorted(reach, key=promise) + late:
            budget -= self.reach.seconds[test]
            if budget < 0:
                return None, False
            why = self.passes(test, kind, True)
            if why and self.is_sound(test, kind):
                self.found[test, mutant.file] += 1
                return (program_name(test), why), True
        return None, True

    def verdict(self, mutant, deep):
        result = {'file': mutant.file, 'text': mutant.text, 'change': mutant.change, 'line': mutant.line}
        began = time.monotonic()
        if not self.compile(mutant, NOTICED):
            return dict(result, verdict='no program')
        reached, kind = self.reach.of(mutant), 'plain'
        self.link([])
        by, whole = self.kill(mutant, kind, deep)
        if by is None and self.is_same(mutant):
            return dict(result, verdict='same object', seconds=round(time.monotonic() - began, 2))
        if by is None and deep:
            kind = 'watched'
            self.compile(mutant, NOTICED + ['-fsanitize=address'])
            self.link(['-fsanitize=address'])
            by, whole = self.kill(mutant, kind, True)
        result['seconds'] = round(time.monotonic() - began, 2)
        if by:
            return dict(result, verdict='killed', by=by[0], why=by[1], kind=kind)
        return dict(result, verdict='survives', tests=len(reached), whole=whole, deep=deep)
