"""The sources and tests that take part, and the programs that are linked for trying mutants."""
import glob
import os
import re
import shutil
import subprocess
import sys

ROOMS = {'physics': ['lib/physics/*.c'], 'motion': ['lib/motion/*.c'], 'study': ['lib/study/*/*.c'],
         'cli': ['cli/*.c', 'cli/*/*.c']}
# not tests/faults: they time, or take functions by another name
TESTS = ['tests/unit/*.c', 'tests/published/*.c', 'tests/cli/*.c', 'tests/fuzz/*.c']
FLAGS = '-O1 -fvisibility=default'
LIBS = ['-lgsl', '-lgslcblas', '-lyaml', '-ludunits2', '-lm', '-pthread', '-ljansson', '-lzip']
TEST_LIBS = ['-lcmocka', '-lsundials_cvode', '-lsundials_nvecserial', '-lsundials_sunmatrixdense',
             '-lsundials_sunlinsoldense', '-lxml2']
COMPILER = os.environ.get('CC', 'cc').split()
MOST_SECONDS = 25  # of a test program: what takes longer is run for the survivors of its room alone


def run(command, **more):
    done = subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, **more)
    if done.returncode:
        sys.exit('mutate: %s\n%s' % ((command if isinstance(command, str) else ' '.join(command))[:200], done.stdout[-2000:]))
    return done.stdout


def in_workers(count, tasks, work):
    """Does the work of each task in one of so many processes; the next task goes to the next that is
    free, through a pipe of numbers."""
    take, give = os.pipe()
    workers = []
    for _ in range(count):
        pid = os.fork()
        if pid == 0:
            os.close(give)
            while number := os.read(take, 4):
                work(tasks[int.from_bytes(number, 'big')])
            os._exit(0)
        workers.append(pid)
    os.close(take)
    try:
        for number in range(len(tasks)):
            os.write(give, number.to_bytes(4, 'big'))
    except BrokenPipeError:
        pass  # all have failed
    os.close(give)
    if any([os.waitpid(pid, 0)[1] != 0 for pid in workers]):
        sys.exit('mutate: a worker failed')


def sources(room):
    return sorted(name for pattern in ROOMS[room] for name in glob.glob(pattern))


def room_of(file):
    return 'cli' if file.startswith('cli/') else file.split('/')[1]


def tests():
    return [name[:-2] for pattern in TESTS for name in sorted(glob.glob(pattern))]


def program_name(test):
    return test[len('tests/'):]


def make(build, flags, goals):
    run(['make', '-s', '-j', str(os.cpu_count()), 'BUILD=' + build, 'CC=' + ' '.join(COMPILER),
         'FMU=%s/fmu.so' % os.path.abspath(build)] + flags + goals)


def link_programs(build):
    """The library and the tool's parts as one shared library, the patch before it, and all programs on
    these, in plain/; the same with the address sanitizer's runtime in watched/."""
    make(build, ['CFLAGS=' + FLAGS], ['all', build + '/libreference.a', build + '/libtool.a'] +
         ['%s/%s.o' % (build, t) for t in tests()])
    whole, patch = build + '/libwhole.so', build + '/libpatch.so'
    run(COMPILER + ['-shared', '-Wl,-soname,libwhole.so', '-o', whole, '-Wl,--whole-archive', build + '/libtool.a',
         build + '/libslewtime.a', '-Wl,--no-whole-archive'] + LIBS)
    run(COMPILER + ['-shared', '-x', 'c', '/dev/null', '-Wl,-soname,libpatch.so', '-o', patch])
    for kind, flags in (('plain', []), ('watched', ['-fsanitize=address'])):
        for name, parts, libs in [('slewtime', [build + '/cli/main.o'], [])] + [
                (program_name(t), ['%s/%s.o' % (build, t), build + '/libreference.a'], TEST_LIBS) for t in tests()]:
            out = '%s/%s/%s' % (build, kind, name)
            if os.path.exists(out) and os.path.getmtime(out) > max(map(os.path.getmtime, parts)):
                continue
            os.makedirs(os.path.dirname(out), exist_ok=True)
            run(COMPILER + flags + ['-o', out] + parts + ['-Wl,--no-as-needed', patch, whole, '-Wl,--as-needed',
                '-Wl,-rpath,' + os.path.abspath(build)] + libs + LIBS)


def compile_commands(build):
    """How make compiles each source, from make itself."""
    files = [f for room in ROOMS for f in sources(room)]
    said = run(['make', '-n', '-B', 'BUILD=' + build, 'CC=' + COMPILER[-1], 'CFLAGS=' + FLAGS,
                'FMU=%s/fmu.so' % os.path.abspath(build)] + ['%s/%s.o' % (build, f[:-2]) for f in files])
    commands = {}
    for line in said.split('\n'):
        found = re.search(r' -c (\S+\.c) -o \S+$', line)
        if found and found[1] in files:
            commands[found[1]] = line[:found.start()].replace(' -MMD -MP', '')
    return commands


def copy_tree(tree):
    """A copy of what the tests read, for a mutant to write into."""
    os.makedirs(tree)
    for top in ('README.md', 'DEVELOPERS.md', 'Makefile', 'LICENSE', '.clang-format'):
        if os.path.exists(top):
            shutil.copy(top, tree)
    for top in ('lib', 'include', 'cli', 'tests', 'plots', 'examples'):
        shutil.copytree(top, tree + '/' + top, ignore=shutil.ignore_patterns('node_modules'))
