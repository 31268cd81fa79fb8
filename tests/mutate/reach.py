"""Which tests run which line, and how long they take: each runs once on a build that counts lines."""
import glob
import json
import os
import resource
import shutil
import signal
import subprocess
import time

from programs import FLAGS, MOST_SECONDS, ROOMS, in_workers, make, program_name, sources, tests


def cover(build, test):
    """Runs a test once on a build that counts lines; keeps the lines of each source, and its seconds."""
    counts = os.path.abspath('%s/counts/%s' % (build, test))
    shutil.rmtree(counts, ignore_errors=True)
    environment = dict(os.environ, GCOV_PREFIX=counts, SLEWTIME_TOOL=build + '/slewtime', SLEWTIME_BUILD=build,
                       SLEWTIME_GNUPLOT_SECONDS='600')
    ok, seconds = measured(['%s/%s' % (build, test)], environment)
    root = counts + os.path.abspath(build)
    counted = glob.glob(root + '/lib/**/*.gcda', recursive=True) + glob.glob(root + '/cli/**/*.gcda', recursive=True)
    for name in counted:
        os.symlink(name[len(counts):-5] + '.gcno', name[:-5] + '.gcno')
    lines = {}
    if counted:
        for answer in gcov(counted):
            for file in answer['files']:
                if file['file'].endswith('.c'):
                    lines.setdefault(file['file'], set()).update(l['line_number'] for l in file['lines'] if l['count'])
    result = {'ok': ok, 'seconds': seconds, 'lines': {f: sorted(l) for f, l in lines.items() if l}}
    with open(lines_file(build, test), 'w') as file:
        json.dump(result, file)
    shutil.rmtree(counts, ignore_errors=True)


def gcov(files):
    """What gcov says of each; its remarks on those that have not run are left out."""
    said = subprocess.run(['gcov', '-j', '-t'] + files, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
    return [json.loads(line) for line in said.stdout.splitlines()]


def measured(command, environment):
    """Whether it succeeds, and the seconds of processors that it took with all that it started and
    waited for; stopped when these are too many."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    child = subprocess.Popen(command, env=environment, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL,
                             stderr=subprocess.DEVNULL, start_new_session=True)
    while child.poll() is None:
        time.sleep(0.1)
        with open('/proc/%d/stat' % child.pid) as file:
            fields = file.read().rpartition(')')[2].split()
        if sum(map(int, fields[11:15])) / os.sysconf('SC_CLK_TCK') > MOST_SECONDS:
            os.killpg(child.pid, signal.SIGKILL)
            child.wait()
            return False, MOST_SECONDS
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return child.returncode == 0, used.ru_utime + used.ru_stime - before.ru_utime - before.ru_stime


def lines_file(build, test):
    return '%s/lines/%s.json' % (build, test.replace('/', '_'))


def known_lines(build, files):
    """The lines of each source that gcc counts, whether or not they run."""
    known = {f: [] for f in files}
    notes = [os.path.abspath('%s/%s.gcno' % (build, f[:-2])) for f in files]
    for answer in gcov(notes):
        for file in answer['files']:
            if file['file'] in known:
                known[file['file']] = sorted({l['line_number'] for l in file['lines']})
    return known


def is_new(build, test):
    """Whether the test has changed since its lines were counted."""
    kept = lines_file(build, test)
    return not os.path.exists(kept) or os.path.getmtime(kept) < os.path.getmtime(test + '.c')


class Reach:
    """Which tests run a line."""

    def __init__(self, build, workers, rooms):
        asked = [t for t in tests() if 'cli' in rooms or not t.startswith('tests/cli/')]
        os.makedirs(build + '/lines', exist_ok=True)
        new = [t for t in asked if is_new(build, t)]
        if new:
            make(build, ['CFLAGS=' + FLAGS, 'SANITIZE=--coverage'], ['all'] + ['%s/%s' % (build, t) for t in new])
            in_workers(workers, new, lambda test: cover(build, test))
        self.by_line, self.by_file, self.seconds, self.late = {}, {}, {}, []
        for test in asked:
            with open(lines_file(build, test)) as file:
                found = json.load(file)
            self.seconds[test] = found['seconds']
            if not found['ok']:
                self.late.append(test)
                print('%s %s' % (program_name(test), 'takes more than %d s' % MOST_SECONDS if
                      found['seconds'] >= MOST_SECONDS else 'fails when lines are counted'), flush=True)
                continue
            for file, lines in found['lines'].items():
                self.by_file.setdefault(file, set()).add(test)
                for line in lines:
                    self.by_line.setdefault((file, line), set()).add(test)
        self.known = known_lines(build, [f for room in ROOMS for f in sources(room)])

    def of(self, mutant):
        """A line that is not counted is part of a statement, whose other lines are: those before and
        after it. Data are read by what runs anything of their file or folder."""
        known = self.known[mutant.file]
        if mutant.line in known:
            return self.by_line.get((mutant.file, mutant.line), set())
        before = [l for l in known if l < mutant.line][-1:]
        after = [l for l in known if l > mutant.line][:1]
        if before and after and mutant.line - before[0] < 6:
            return set().union(*(self.by_line.get((mutant.file, l), set()) for l in before + after))
        if self.by_file.get(mutant.file):
            return self.by_file[mutant.file]
        folder = os.path.dirname(mutant.file)
        return set().union(*(t for f, t in self.by_file.items() if os.path.dirname(f) == folder))
