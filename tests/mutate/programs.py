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
        shown = command if isinstance(command, str) else ' '.join(command)
        sys.exit('mutate: %s\n%s' % (shown[:200], done.stdout[-2000:]))
    return done.stdout


def in_workers(count, tasks, work):
    """Does the work of each task in one of so many processes; the next task goes to the next that is
    free, through a pipe of numbers. Work that returns False is the last."""
    take, give = os.pipe()
    workers = []
    for _ in range(count):
        pid = os.fork()
        if pid == 0:
            os.close(give)
            while number := os.read(take, 4):
                if work(tasks[int.from_bytes(number, 'big')]) is False:
                    break
            os._exit(0)
        workers.append(pid)
    os.close(take)
    try:
        for number in range(len(tasks)):
            os.write(give, number.to_bytes(4, 'big'))
    except BrokenPipeError:
        pass  # all have ended
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


def link_library(build):
    """The library and the tool's parts as one shared library, and an empty one that stands before it:
    a mutant is put in its place."""
    make(build, ['CFLAGS=' + FLAGS], ['all', build + '/libreference.a', build + '/libtool.a'] +
         ['%s/%s.o' % (build, t) for t in tests()])
    run(COMPILER + ['-shared', '-Wl,-soname,libwhole.so', '-o', build + '/libwhole.so', '-Wl,--whole-archive',
         build + '/libtool.a', build + '/libslewtime.a', '-Wl,--no-whole-archive'] + LIBS)
    run(COMPILER + ['-shared', '-x', 'c', '/dev/null', '-Wl,-soname,libpatch.so', '-o', build + '/libpatch.so'])


def program(build, kind, name):
    """The tool or a test program on these libraries; `watched`: with the address sanitizer's runtime."""
    out, tool = '%s/%s/%s' % (build, kind, name), name == 'slewtime'
    main = '%s/%s.o' % (build, 'cli/main' if tool else 'tests/' + name)
    if not os.path.exists(out) or os.path.getmtime(out) < os.path.getmtime(main):
        os.makedirs(os.path.dirname(out), exist_ok=True)
        part = '%s.%d' % (out, os.getpid())
        run(COMPILER + (['-fsanitize=address'] if kind == 'watched' else []) + ['-o', part, main] +
            ([] if tool else [build + '/libreference.a']) +
            ['-Wl,--no-as-needed', build + '/libpatch.so', build + '/libwhole.so', '-Wl,--as-needed',
             '-Wl,-rpath,' + os.path.abspath(build)] + ([] if tool else TEST_LIBS) + LIBS)
        os.rename(part, out)
    return out


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
