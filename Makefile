# slewtime - GNU make. `make help` lists the targets.

version = $(shell sed -n 's/^\#define SLEW_VERSION_$(1) //p' include/slewtime/version.h)
MAJOR   := $(call version,MAJOR)
MINOR   := $(call version,MINOR)
VERSION := $(MAJOR).$(MINOR).$(call version,PATCH)
PREFIX  ?= /usr/local
BUILD   ?= build
CC      ?= cc
PYTHON  ?= /usr/bin/python3
CFLAGS  ?= -O3 -g
WARN    := -Wall -Wextra -Wconversion -Wshadow -Wstrict-prototypes -Wmissing-prototypes $(WERROR)
# -ffp-contract=off: the same result whether or not the machine has fused multiply-add
# hidden: a shared library shows what the public headers mark with SLEW_API, and nothing else
STD     := -std=c11 -D_POSIX_C_SOURCE=200809L -ffp-contract=off -fPIC -fvisibility=hidden \
           -fno-semantic-interposition
PLOTS   ?= $(CURDIR)/plots
PAGE    ?= $(abspath $(BUILD))/page.html
FMU     ?= $(abspath $(BUILD))/fmu.so
ALL_CFLAGS = $(STD) $(WARN) $(CFLAGS) $(SANITIZE) -Iinclude -Ilib -Icli -MMD -MP
LIB_LIBS := -lgsl -lgslcblas -lyaml -ludunits2 -lm -pthread
LDLIBS   := -ljansson -lzip $(LIB_LIBS)

# the core: what runs a scenario of numbers, on libm alone. lib/core stands in it for the rooms that
# it goes without, and is no part of the whole library.
ALONE_SRC := $(wildcard lib/core/*.c)
CORE_SRC  := $(wildcard lib/error/*.c lib/physics/*.c lib/keys/*.c lib/motion/*.c) $(ALONE_SRC)
LIB_SRC   := $(filter-out $(ALONE_SRC),$(wildcard lib/*/*.c lib/study/*/*.c))
CLI_SRC   := $(wildcard cli/*.c cli/*/*.c)
# what checks a scenario that is no file
CHECK_SRC := $(addprefix lib/scenario/,check.c check_missing.c check_more.c report.c) \
    cli/page/module/no_file.c
# the module of the page: the core, and what checks a scenario and judges a run
MODULE_SRC := $(filter-out lib/motion/machine_bytes.c,$(CORE_SRC)) cli/page/module/bridge.c \
    $(CHECK_SRC) lib/scenario/pairs.c lib/study/map/map_probe.c
# the module of FMUs: the core, and what checks a scenario
FMU_SRC := $(wildcard cli/fmu/module/*.c) $(addprefix cli/fmu/,numbers.c variables.c) $(CHECK_SRC)
PAGE_PARTS := $(addprefix plots/page/,page.html style.css lessons.json checks.json) \
    $(wildcard plots/page/*.js)
REF_SRC   := $(wildcard tests/reference/*.c)
SHIM_SRC  := $(wildcard tests/faults/shim*.c)
# what the programs with random scenarios share
RANDOM_SRC := $(addprefix tests/random/,generator.c places.c write.c order.c)
# what drives a target of fuzzing: replay in the tests, guided in `make fuzz`
FUZZ_DRIVER  ?= replay
FUZZ_DRIVERS := tests/fuzz/replay.c tests/fuzz/guided.c
FUZZ_SRC  := $(filter-out $(FUZZ_DRIVERS),$(wildcard tests/fuzz/*.c))
# those of faults first: they wait much, and would else be the last ones waited for
TEST_SRC  := $(filter-out $(SHIM_SRC) $(RANDOM_SRC),$(wildcard tests/faults/*.c tests/unit/*.c \
    tests/published/*.c tests/cli/*.c tests/random/*.c)) $(FUZZ_SRC)
BENCH_SRC := $(wildcard tests/bench/*.c)

LIB_OBJ := $(LIB_SRC:%.c=$(BUILD)/%.o)
CORE_OBJ := $(CORE_SRC:%.c=$(BUILD)/%.o)
# what knows where the tool finds its files at run time, and the tool made of it, stand in PLACE: an
# install builds these alone anew
PLACE  ?= $(BUILD)
PLACED := $(addprefix cli/,draw/plot.o page/template.o fmu/package.o)
CLI_OBJ := $(filter-out $(PLACED:%=$(BUILD)/%),$(CLI_SRC:%.c=$(BUILD)/%.o)) $(PLACED:%=$(PLACE)/%)
REF_OBJ := $(REF_SRC:%.c=$(BUILD)/%.o)
TESTS   := $(TEST_SRC:%.c=$(BUILD)/%)
FUZZED  := $(FUZZ_SRC:%.c=$(BUILD)/%)
# preloaded into the tool, and into a program that uses the library, by tests/faults
SHIM    := $(BUILD)/tests/faults/shim.so
# of the libraries as they are built: shell scripts
SCRIPTS := $(patsubst %.sh,$(BUILD)/%,$(wildcard tests/library/*.sh tests/papers/*.sh))
BENCHES := $(BENCH_SRC:%.c=$(BUILD)/%)

STATIC := $(BUILD)/libslewtime.a
CORE   := $(BUILD)/libslewtime-core.a
SONAME := libslewtime.so.$(MAJOR).$(MINOR)
SHARED := $(BUILD)/libslewtime.so.$(VERSION)
FMU_MODULE := $(BUILD)/fmu.so
TOOL   := $(PLACE)/slewtime
TOOL_PARTS := $(PLACE)/libtool.a
# the reference solvers of the tests, on SUNDIALS and GSL; no part of the library
REF      := $(BUILD)/libreference.a
REF_LIBS := -lsundials_cvode -lsundials_nvecserial -lsundials_sunmatrixdense \
            -lsundials_sunlinsoldense

PAGE_PACKAGES := clang lld wasi-libc libclang-rt-14-dev-wasm32 chromium poppler-utils \
    $(if $(shell command -v npm),,nodejs npm)
FUZZ_PACKAGES := clang libclang-rt-14-dev
COVERAGE_PACKAGES := gcovr
PYTHON_PACKAGES := python3 python3-cffi python3-numpy python3-matplotlib mypy
PACKAGES := gcc libc6-dev pkg-config libgsl-dev libyaml-dev libjansson-dev libudunits2-dev \
            libzip-dev libcmocka-dev libsundials-dev libxml2-dev gnuplot-nox mandoc zsh

.PHONY: all
all: $(STATIC) $(CORE) $(SHARED) $(FMU_MODULE) $(TOOL) ## build the libraries and the tool

.PHONY: deps deps-page deps-python deps-fuzz deps-coverage deps-analyze
deps: ## install the Debian packages that are missing
deps-page: ## the same for page and check-page
deps-page: PACKAGES := $(PAGE_PACKAGES)
deps-foreign: PACKAGES := $(FOREIGN_PACKAGES)
deps-fuzz: ## the same for fuzz
deps-fuzz: PACKAGES := $(FUZZ_PACKAGES)
deps-python: ## the same for the Python module and check-python
deps-python: PACKAGES := $(PYTHON_PACKAGES)
deps-coverage: ## the same for coverage
deps-coverage: PACKAGES := $(COVERAGE_PACKAGES)
deps-analyze: ## the same for analyze
deps-analyze: PACKAGES := $(PACKAGES) clang cppcheck
deps deps-page deps-foreign deps-fuzz deps-python deps-coverage deps-analyze:
	@missing=$$(for p in $(PACKAGES); do \
	    dpkg-query -W -f '$${Status}' $$p 2>/dev/null | grep -q 'ok installed' || echo $$p; done | \
	    tr '\n' ' '); \
	if [ -z "$$missing" ]; then echo "$@: nothing is missing"; exit 0; fi; \
	line="apt-get install -y --no-install-recommends $$missing"; \
	if [ "$$(id -u)" = 0 ]; then sudo=; \
	elif command -v sudo >/dev/null; then sudo=sudo; \
	else echo "$@: not root and no sudo; run as root, then try again:"; \
	     echo "  apt-get update && $$line"; exit 1; fi; \
	$$sudo apt-get update -q && $$sudo env DEBIAN_FRONTEND=noninteractive $$line

.PHONY: demo
demo: all ## run the main job on a shipped scenario and draw its picture
	$(TOOL) run examples/daily.yaml --plot $(BUILD)/daily.png
	@echo; echo "The picture is in $(BUILD)/daily.png"

.PHONY: check check-faults
check: all $(TESTS) $(SHIM) $(SCRIPTS) ## run every test
	@SLEWTIME_TOOL=$(TOOL) SLEWTIME_BUILD=$(BUILD) SLEWTIME_SANITIZE='$(SANITIZE)' CC='$(CC)' \
	    sh tests/run.sh $(TESTS) $(SCRIPTS)

# what .ci/run runs under the sanitizers, beside all of it without: the programs that take seconds
# there. The others are run so by check-long.
SLOW_TESTS := $(addprefix random/,scenarios reference) \
    $(addprefix faults/,memory writes signals library outside tmpfs) \
    $(addprefix unit/,study_questions plan_recommended causes_found fit_recovery card_verdict \
    motion_reference margin_need fit_moved trial_regret offset_lead offset_demands fit_write \
    feed_work speed_point study_accuracy plan_words causes_calibrated fit_told card_bands \
    offset_seconds margin_refusals map_boundaries motion_left_out) published/study_statistics \
    $(addprefix cli/cli_,documents plan feed slide report worked_story page picture_words fmu_run \
    cautions schema every_example help fmu fmu_rules causes margin answers sayings scripts records \
    offset words pose origin compare_output terminal plot offset_demands fit card)
SLOW  := $(SLOW_TESTS:%=$(BUILD)/tests/%)
QUICK := $(filter-out $(SLOW),$(TESTS))
.PHONY: check-quick check-long
check-quick: all $(QUICK) $(SHIM) ## run the tests that take seconds
	@SLEWTIME_TOOL=$(TOOL) SLEWTIME_BUILD=$(BUILD) SLEWTIME_SANITIZE='$(SANITIZE)' CC='$(CC)' \
	    sh tests/run.sh $(QUICK)

# before a release: what takes too long for each change. Its last figures are in DEVELOPERS.md.
check-long: ## everything that takes long: all tests under sanitizers, all faults, foreign machines
	@bash tests/long.sh

FAULTS := $(filter $(BUILD)/tests/faults/%,$(TESTS))
check-faults: all $(FAULTS) $(SHIM) ## let memory, the disk, gnuplot fail everywhere: many minutes
	@SLEWTIME_TOOL=$(TOOL) SLEWTIME_BUILD=$(BUILD) SLEW_FAULTS=all sh tests/run.sh $(FAULTS)

# those drawn are the same for the same sources, and what was tried is in build/mutate/log-1.jsonl: a
# run that was stopped goes on. MUTANTS: more of them, or --survivors (DEVELOPERS.md)
MUTANTS ?= --count 1000
.PHONY: mutate
mutate: ## change the code in a thousand ways and count what the tests notice: hours
	@CC='$(CC)' nice $(PYTHON) -B tests/mutate/mutate.py --build $(BUILD) $(MUTANTS)

# by libFuzzer, one target after the other. FUZZ: which; FUZZ_SECONDS: for each; FUZZ_CHECKS: the
# sanitizers beside it. What is found goes into tests/fuzz/corpus/TARGET, with the cure.
FUZZ         ?= $(FUZZ_SRC:tests/fuzz/%.c=%)
FUZZ_SECONDS ?= 60
FUZZ_CHECKS  ?= ,address,undefined
FUZZ_CC      ?= clang
# comparisons of numbers are not traced: that took half the time, and what our readers compare is words
FUZZ_FASTER  := -fno-sanitize-coverage=trace-cmp
.PHONY: fuzz fuzz-programs
fuzz: ## look for inputs that break a reader, guided by coverage: FUZZ=scenario FUZZ_SECONDS=60
	@$(MAKE) BUILD=$(BUILD)/fuzz CC='$(FUZZ_CC)' CFLAGS="-O2 -g" FUZZ_DRIVER=guided \
	    SANITIZE="-fsanitize=fuzzer$(FUZZ_CHECKS) $(FUZZ_FASTER) -fno-sanitize-recover=all" \
	    fuzz-programs
	@sh tests/fuzz/guided.sh $(BUILD)/fuzz $(FUZZ_SECONDS) $(FUZZ)
fuzz-programs: $(FUZZED)

# N scenarios are run, and COMPARED with the reference, from number FIRST on
RANDOM := $(filter $(BUILD)/tests/random/%,$(TESTS))
N ?= 100000
COMPARED ?= 300
FIRST ?= 0
.PHONY: check-random
check-random: $(RANDOM) ## run random scenarios: N=100000, COMPARED=300 with the reference, from number FIRST=0 on
	@SLEW_RANDOM_N=$(N) SLEW_RANDOM_COMPARED=$(COMPARED) SLEW_RANDOM_FIRST=$(FIRST) \
	    sh tests/run.sh $(RANDOM)
	@grep -h ' run of \| the same, ' $(RANDOM:%=%.log)

.PHONY: check-install
check-install: ## install into a temporary folder, move it, build programs against it, uninstall
	@CC='$(CC)' bash tests/install.sh

.PHONY: analyze
analyze: $(addprefix $(BUILD)/,lib/scenario/catalogue.inc cli/schema/answers.inc cli/manual/headers.inc \
    cli/fmu/license.inc) ## gcc -fanalyzer, clang --analyze, cppcheck: some minutes
	@sh tests/analyze.sh $(BUILD)

# ---- foreign machines: byte order, word size ---------------------------------------------------

# s390x has the other byte order, i386 words of 32 bits. Debian's compilers and qemu-user; the
# libraries are Debian's own for that machine, unpacked under build/. Left out are the tests of the tool
# and of the sources, those with the reference, whose SUNDIALS is not fetched, and on s390x, which is
# emulated, those that compute too long there: DEVELOPERS.md has their seconds.
FOREIGN := s390x i386
FOREIGN_PACKAGES := gcc-s390x-linux-gnu libc6-dev-s390x-cross gcc-i686-linux-gnu \
    libc6-dev-i386-cross qemu-user
FOREIGN_TESTS := $(filter-out $(shell grep -lE '"(\.\./)*(reference|cli)/|(motion|fit)_(both|compare)|trial\.h|"cli"' $(TEST_SRC)), \
    $(wildcard tests/unit/*.c tests/published/*.c))
s390x_SLOW := $(addprefix tests/unit/,causes_found.c card_verdict.c offset_lead.c fit_write.c \
    plan_words.c map_boundaries.c speed_point.c)
s390x_TRIPLE := s390x-linux-gnu
i386_TRIPLE := i686-linux-gnu
i386_LIBS := i386-linux-gnu
# no x87: its registers hold more digits than a double, and answers would hang on the optimiser
i386_FLAGS := -msse2 -mfpmath=sse -mstackrealign -Wno-psabi
.PHONY: deps-foreign check-foreign $(FOREIGN:%=foreign-%)
deps-foreign: ## install what check-foreign needs
check-foreign: $(FOREIGN:%=foreign-%) ## run the library's tests big-endian and with 32 bits
$(FOREIGN:%=foreign-%): foreign-%:
	@sh tests/foreign/packages.sh $* $(abspath $(BUILD))/foreign/$*
	@$(MAKE) BUILD=$(BUILD)/$* FOREIGN_ROOT=$(abspath $(BUILD))/foreign/$* \
	    CC='$($*_TRIPLE)-gcc $($*_FLAGS)' AR=$($*_TRIPLE)-ar \
	    FOREIGN_LIBS=$(or $($*_LIBS),$($*_TRIPLE)) FOREIGN_CPU=$* \
	    FOREIGN_SLOW='$($*_SLOW)' foreign-run

ifdef FOREIGN_ROOT
ALL_CFLAGS += -isystem $(FOREIGN_ROOT)/usr/include
FOREIGN_DIRS := $(FOREIGN_ROOT)/lib/$(FOREIGN_LIBS):$(FOREIGN_ROOT)/usr/lib/$(FOREIGN_LIBS)
FOREIGN_RUN := $(patsubst %.c,$(BUILD)/%,$(filter-out $(FOREIGN_SLOW),$(FOREIGN_TESTS)))
.PHONY: foreign-run
foreign-run: $(FOREIGN_RUN)
	@sh tests/foreign/run.sh $(FOREIGN_CPU) $(FOREIGN_ROOT) $(FOREIGN_DIRS) $^
endif

.PHONY: check-python
check-python: ## install into a temporary folder and run the tests of the Python module
	@$(MAKE) deps-python
	@prefix=$$(mktemp -d) && trap 'rm -rf "$$prefix"' EXIT && \
	    $(MAKE) -s PREFIX="$$prefix" install >/dev/null && PYTHON='$(PYTHON)' bash tests/python.sh "$$prefix"

# ---- which branches the tests take ---------------------------------------------------------------

# Library and tool are built without optimization, which would leave branches out; the tests are built
# as ever. Left out are programs that only sample more of what others reach, that kill the tool before
# it can tell, or that look at what a library shows. An assert's branch that ends the process does not
# count. tests/coverage/unreached.txt says of each function why it keeps branches that no test takes.
COVERAGE_LEFT := library/exports faults/signals $(addprefix unit/,trial_regret fit_recovery \
    study_accuracy causes_calibrated causes_found)
.PHONY: coverage coverage-run
coverage: ## count the branches that the tests take: fails under 95 % of lib, 92 % of cli
	@$(MAKE) -s deps-coverage
	@$(MAKE) -s BUILD=$(BUILD)/coverage COVERAGE=1 coverage-run

ifdef COVERAGE
SANITIZE := --coverage -fprofile-update=atomic
$(BUILD)/lib/%.o $(BUILD)/cli/%.o: CFLAGS := -O0 -g
$(BUILD)/tests/%.o: SANITIZE :=
COVERING := $(filter-out $(COVERAGE_LEFT:%=$(BUILD)/tests/%),$(QUICK) $(SLOW) $(SCRIPTS))
coverage-run: all $(COVERING) $(SHIM)
	@find $(BUILD) -name '*.gcda' -delete
	@SLEWTIME_TOOL=$(TOOL) SLEWTIME_BUILD=$(BUILD) SLEWTIME_SANITIZE='$(SANITIZE)' CC='$(CC)' \
	    sh tests/run.sh $(COVERING)
	@gcovr --root . --filter lib/ --filter cli/ --exclude-unreachable-branches \
	    --exclude-branches-by-pattern '\s*assert\(' --json $(BUILD)/coverage.json $(BUILD)/lib $(BUILD)/cli
	@$(PYTHON) tests/coverage/report.py tests/coverage/unreached.txt lib=95 cli=92 \
	    <$(BUILD)/coverage.json
endif

.PHONY: bench
bench: $(BENCHES) $(TOOL) ## measure against the reference solvers, in one run; and questions
	@for b in $(BENCHES); do SLEWTIME_TOOL=$(TOOL) $$b || exit 1; done

# every answer of every command on every example, to see what a change does to them
GOLDEN ?= $(BUILD)/golden
.PHONY: golden golden-compare
golden: all ## write every answer on every example into GOLDEN (build/golden)
	@sh tests/golden/write.sh $(TOOL) $(GOLDEN)
golden-compare: golden ## name what differs from the answers in OLD
	@[ -n "$(OLD)" ] || { echo "golden-compare: OLD=folder is missing"; exit 1; }
	@sh tests/golden/compare.sh $(OLD) $(GOLDEN)

# what the tool says to some command lines, held by tests/cli/cli_answers.c
ANSWERS := $(BUILD)/tests/cli/cli_answers
.PHONY: answers
answers: $(ANSWERS) $(TOOL) ## write tests/cli/answers anew, after a change that is meant to be seen
	@SLEWTIME_TOOL=$(TOOL) SLEWTIME_WRITE_ANSWERS=1 $(ANSWERS) >/dev/null 2>&1

# the schemas of the answers, learned from those on every example: after a figure is new or renamed
RECORD := $(BUILD)/tests/schema/record
.PHONY: schemas
schemas: $(RECORD) ## write cli/schema/COMMAND.json anew, from the answers on every example
	@sh tests/golden/asks.sh | $(RECORD) cli/schema 2>$(BUILD)/schemas.log
	@if grep '^record:' $(BUILD)/schemas.log; then exit 1; fi
$(RECORD): $(RECORD).o $(TOOL_PARTS) $(STATIC)
	$(CC) $(SANITIZE) -o $@ $^ $(LDLIBS)

# where things are installed; share/slewtime is ours alone
BINDIR   = $(DESTDIR)$(PREFIX)/bin
LIBDIR   = $(DESTDIR)$(PREFIX)/lib
INCDIR   = $(DESTDIR)$(PREFIX)/include/slewtime
SHAREDIR = $(DESTDIR)$(PREFIX)/share/slewtime
DOCDIR   = $(DESTDIR)$(PREFIX)/share/doc/slewtime
MANDIR   = $(DESTDIR)$(PREFIX)/share/man
BASHDIR  = $(DESTDIR)$(PREFIX)/share/bash-completion/completions
ZSHDIR   = $(DESTDIR)$(PREFIX)/share/zsh/site-functions
CMAKEDIR = $(LIBDIR)/cmake/slewtime
PYDIR    = $(LIBDIR)/python3/dist-packages/slewtime
# the tool as it is built for PREFIX
INSTALLED = $(BUILD)/install$(PREFIX)
PUT  = install -m 644
FILL = sed -e 's/@VERSION@/$(VERSION)/g' -e 's/@MAJOR@/$(MAJOR)/g' -e 's/@MINOR@/$(MINOR)/g' \
    -e 's/@SONAME@/$(SONAME)/g'

.PHONY: install uninstall
install: ## install under PREFIX (default /usr/local)
	$(MAKE) PLACE='$(INSTALLED)' PLOTS='$(PREFIX)/share/slewtime/plots' \
	    PAGE='$(PREFIX)/share/slewtime/page.html' FMU='$(PREFIX)/lib/slewtime/fmu.so' all
	install -d $(BINDIR) $(INCDIR) $(LIBDIR)/pkgconfig $(LIBDIR)/slewtime $(CMAKEDIR) $(SHAREDIR)/plots \
	    $(SHAREDIR)/examples/embed $(SHAREDIR)/schema $(DOCDIR) \
	    $(MANDIR)/man1 $(MANDIR)/man3 $(MANDIR)/man5 $(BASHDIR) $(ZSHDIR)
	install -m 755 $(INSTALLED)/slewtime $(BINDIR)
	$(PUT) include/slewtime/*.h $(INCDIR)
	$(PUT) $(STATIC) $(CORE) $(LIBDIR)
	install -m 755 $(SHARED) $(LIBDIR)
	install -m 755 $(FMU_MODULE) $(LIBDIR)/slewtime
	ln -sf libslewtime.so.$(VERSION) $(LIBDIR)/$(SONAME)
	ln -sf $(SONAME) $(LIBDIR)/libslewtime.so
	$(PUT) plots/*.gp plots/report.css $(SHAREDIR)/plots
	$(PUT) examples/*.yaml examples/*.csv $(SHAREDIR)/examples
	$(PUT) examples/embed/* $(SHAREDIR)/examples/embed
	$(PUT) lib/scenario/catalogue.yaml $(SHAREDIR)
	$(PUT) $(SCHEMAS) $(SHAREDIR)/schema
	$(INSTALLED)/slewtime schema scenario > $(SHAREDIR)/schema/scenario.json
	$(INSTALLED)/slewtime manual 1 > $(MANDIR)/man1/slewtime.1
	$(INSTALLED)/slewtime manual 3 > $(MANDIR)/man3/slewtime.3
	$(INSTALLED)/slewtime manual 5 > $(MANDIR)/man5/slewtime-scenario.5
	$(INSTALLED)/slewtime completion bash > $(BASHDIR)/slewtime
	$(INSTALLED)/slewtime completion zsh > $(ZSHDIR)/_slewtime
	$(PUT) README.md lib/MODEL.md lib/CHANGES.md $(DOCDIR)
	if [ -f $(BUILD)/page.html ]; then $(PUT) $(BUILD)/page.html $(SHAREDIR); fi
	for pc in slewtime slewtime-core; do \
	    $(FILL) lib/$$pc.pc.in > $(LIBDIR)/pkgconfig/$$pc.pc || exit 1; done
	for part in config config-version; do \
	    $(FILL) lib/slewtime-$$part.cmake.in > $(CMAKEDIR)/slewtime-$$part.cmake || exit 1; done
	@if $(PYTHON) -c 'import cffi' 2>/dev/null; then $(MAKE) install-python; \
	    else echo "install: without the Python module, which needs cffi: make deps-python"; fi

# plain Python, the declarations made into it: no compiler and no parser where it is imported
.PHONY: install-python
install-python:
	install -d $(PYDIR)
	$(PUT) lib/python/slewtime/*.py lib/python/slewtime/*.pyi lib/python/slewtime/py.typed $(PYDIR)
	echo 'SONAME = "$(SONAME)"' > $(PYDIR)/_soname.py
	sh lib/python/declarations.sh $(CC) > $(BUILD)/declarations.h
	$(PYTHON) lib/python/build.py $(PYDIR) < $(BUILD)/declarations.h

uninstall: ## take away what `make install` put under PREFIX
	rm -f $(MANDIR)/man1/slewtime.1 $(MANDIR)/man3/slewtime.3 $(MANDIR)/man5/slewtime-scenario.5 \
	    $(BASHDIR)/slewtime $(ZSHDIR)/_slewtime
	rm -f $(BINDIR)/slewtime $(LIBDIR)/libslewtime.a $(LIBDIR)/libslewtime-core.a \
	    $(LIBDIR)/libslewtime.so.$(VERSION) $(LIBDIR)/$(SONAME) $(LIBDIR)/libslewtime.so \
	    $(LIBDIR)/pkgconfig/slewtime.pc $(LIBDIR)/pkgconfig/slewtime-core.pc
	rm -rf $(INCDIR) $(LIBDIR)/slewtime $(CMAKEDIR) $(SHAREDIR) $(DOCDIR) $(PYDIR)

.PHONY: reference
reference: ## write the library's reference from its headers, with doxygen, into build/reference
	@command -v doxygen >/dev/null || { echo "reference: doxygen is not installed"; exit 1; }
	@mkdir -p build
	@doxygen .doxyfile
	@echo "build/reference/html/index.html"

FORMATTED := $(wildcard include/slewtime/*.h lib/*/*.[ch] lib/study/*/*.[ch] cli/*.[ch] cli/*/*.[ch] cli/*/*/*.[ch] tests/*.h tests/*/*.[ch] \
             examples/embed/*.c)
.PHONY: format format-check
format: ## format the sources
	clang-format -i $(FORMATTED)
format-check: ## fail if a source is not formatted
	clang-format --dry-run --Werror $(FORMATTED)

.PHONY: clean
clean: ## remove what was built
	rm -rf $(BUILD)

.PHONY: help
help: ## list the targets
	@sed -n 's/^\([a-z-]*\)[^#]*## \(.*\)/  \1\t\2/p' $(firstword $(MAKEFILE_LIST)) | expand -t 18

# ---- rules -----------------------------------------------------------------------------------

$(BUILD)/%.o: %.c Makefile
	@mkdir -p $(@D)
	$(CC) $(ALL_CFLAGS) -c $< -o $@
ifneq ($(PLACE),$(BUILD))
$(PLACED:%=$(PLACE)/%): $(PLACE)/%.o: %.c Makefile
	@mkdir -p $(@D)
	$(CC) $(ALL_CFLAGS) -c $< -o $@
endif

# ---- the page -------------------------------------------------------------------------------

.PHONY: page check-page
page: $(BUILD)/page.html ## build what `slewtime page` writes into: page and WebAssembly module
check-page: ## run the tests of the page in a browser, which is installed if it is missing
	@$(MAKE) deps-page
	@$(MAKE) page all
	@SLEWTIME_TOOL=$(TOOL) SLEWTIME_PAGE=$(BUILD)/page.html sh tests/page/run.sh

# plain numbers in and out: no stdio but into memory, and nothing of the machine
$(BUILD)/page.wasm: $(MODULE_SRC) $(wildcard include/slewtime/*.h lib/*/*.h)
	@mkdir -p $(@D)
	clang --target=wasm32-wasi -mexec-model=reactor -O3 -std=c11 -D_POSIX_C_SOURCE=200809L \
	    -Wall -Wextra $(WERROR) -ffp-contract=off -Iinclude -Ilib -Wl,--strip-all -o $@ $(MODULE_SRC)

$(BUILD)/page.html: $(BUILD)/page.wasm $(PAGE_PARTS) plots/page/build.sh
	sh plots/page/build.sh $(BUILD)/page.wasm > $@.part && mv $@.part $@

# the built-in catalogue of causes as a C text
$(BUILD)/lib/scenario/catalogue.inc: lib/scenario/catalogue.yaml
	@mkdir -p $(@D)
	sed -e 's/[\\"]/\\&/g' -e 's/.*/"&\\n"/' $< > $@
$(BUILD)/lib/scenario/catalogue.o: $(BUILD)/lib/scenario/catalogue.inc
$(BUILD)/lib/scenario/catalogue.o: ALL_CFLAGS += -I$(BUILD)/lib/scenario

# the schemas of the answers as C texts by their commands
SCHEMAS := $(wildcard cli/schema/*.json)
$(BUILD)/cli/schema/answers.inc: $(SCHEMAS)
	@mkdir -p $(@D)
	for file in $^; do echo "{\"$$(basename $$file .json)\","; \
	    sed -e 's/[\\"]/\\&/g' -e 's/.*/"&\\n"/' $$file; echo '},'; done > $@
$(BUILD)/cli/schema/command.o: $(BUILD)/cli/schema/answers.inc
$(BUILD)/cli/schema/command.o: ALL_CFLAGS += -I$(BUILD)/cli/schema

# the license as a C text, for FMUs
$(BUILD)/cli/fmu/license.inc: LICENSE
	@mkdir -p $(@D)
	sed -e 's/[\\"]/\\&/g' -e 's/.*/"&\\n"/' $< > $@
$(BUILD)/cli/fmu/license.o: $(BUILD)/cli/fmu/license.inc
$(BUILD)/cli/fmu/license.o: ALL_CFLAGS += -I$(BUILD)/cli/fmu

# what each public header is for, for the manual
$(BUILD)/cli/manual/headers.inc: cli/manual/headers.awk $(wildcard include/slewtime/*.h)
	@mkdir -p $(@D)
	awk -f $^ > $@
$(BUILD)/cli/manual/command.o: $(BUILD)/cli/manual/headers.inc
$(BUILD)/cli/manual/command.o: ALL_CFLAGS += -I$(BUILD)/cli/manual

# what a saved machine is told apart by: the library's sources and the compiler as one digest
$(BUILD)/lib/motion/build.txt: $(LIB_SRC) $(wildcard include/slewtime/*.h lib/*/*.h)
	@mkdir -p $(@D)
	{ $(CC) --version; cat $^; } | cksum | tr ' ' - > $@
$(BUILD)/lib/motion/machine_bytes.o: $(BUILD)/lib/motion/build.txt
$(BUILD)/lib/motion/machine_bytes.o: ALL_CFLAGS += -DSLEW_BUILD="\"$$(cat $(BUILD)/lib/motion/build.txt)\""

$(PLACE)/cli/draw/plot.o: ALL_CFLAGS += -DSLEW_PLOTS_DIR='"$(PLOTS)"'
$(PLACE)/cli/page/template.o: ALL_CFLAGS += -DSLEW_PAGE='"$(PAGE)"'
$(PLACE)/cli/fmu/package.o: ALL_CFLAGS += -DSLEW_FMU='"$(FMU)"'
$(BUILD)/cli/fmu/module/%.o: ALL_CFLAGS += -Icli/fmu
$(addprefix $(BUILD)/tests/cli/cli_fmu,.o _run.o _rules.o): ALL_CFLAGS += $(shell pkg-config --cflags libxml-2.0)

$(STATIC): $(LIB_OBJ)
	@rm -f $@
	$(AR) rcs $@ $^

$(CORE): $(CORE_OBJ)
	@rm -f $@
	$(AR) rcs $@ $^

$(SHARED): $(LIB_OBJ)
	$(CC) $(SANITIZE) -shared -Wl,-soname,$(SONAME) -o $@ $^ $(LIB_LIBS)

# it stands alone on libm, and shows the functions of the standard and nothing of the library
$(FMU_MODULE): $(FMU_SRC:%.c=$(BUILD)/%.o) $(CORE)
	$(CC) $(SANITIZE) -shared -Wl,--version-script=cli/fmu/module/exports.map -o $@ $^ -lm

# the tool without its main, for the tests of its parts
$(TOOL_PARTS): $(filter-out %/main.o,$(CLI_OBJ))
	@rm -f $@
	$(AR) qcs $@ $^

$(TOOL): $(BUILD)/cli/main.o $(TOOL_PARTS) $(STATIC)
	$(CC) $(SANITIZE) -o $@ $^ $(LDLIBS)

$(REF): $(REF_OBJ)
	@rm -f $@
	$(AR) rcs $@ $^

ifdef FOREIGN_ROOT
$(FOREIGN_RUN): $(BUILD)/%: $(BUILD)/%.o $(STATIC)
	$(CC) -Wl,--as-needed -Wl,-rpath-link,$(FOREIGN_DIRS) \
	    -L$(FOREIGN_ROOT)/usr/lib/$(FOREIGN_LIBS) -o $@ $^ -lcmocka $(LIB_LIBS)
else
$(filter-out $(FUZZED),$(TESTS)) $(BENCHES): $(BUILD)/%: $(BUILD)/%.o $(TOOL_PARTS) $(REF) $(STATIC)
	$(CC) $(SANITIZE) -Wl,--as-needed -o $@ $(filter %.o,$^) $(filter %.a,$^) -lcmocka $(REF_LIBS) \
	    -lxml2 $(LDLIBS)
endif

$(FUZZED): $(BUILD)/%: $(BUILD)/%.o $(BUILD)/tests/fuzz/$(FUZZ_DRIVER).o $(TOOL_PARTS) $(STATIC)
	$(CC) $(SANITIZE) -o $@ $^ -lcmocka $(LDLIBS)

$(filter $(BUILD)/tests/random/%,$(TESTS)): $(RANDOM_SRC:%.c=$(BUILD)/%.o)

# stands between the library and UDUNITS
comma := ,
$(BUILD)/tests/faults/library: LDLIBS += $(addprefix -Wl$(comma)--wrap=,ut_read_xml ut_parse \
    ut_divide ut_format ut_get_converter ut_map_name_to_unit ut_unmap_name_to_unit \
    ut_unmap_symbol_to_unit)

# the same program on the core with libm alone, and on the whole library
CYCLE := $(BUILD)/tests/library/cycle
$(CYCLE)_core: $(CYCLE).o $(CORE)
	$(CC) $(SANITIZE) -o $@ $^ -lm
$(CYCLE)_whole: $(CYCLE).o $(STATIC)
	$(CC) $(SANITIZE) -o $@ $^ $(LIB_LIBS)
$(BUILD)/tests/library/core: $(CYCLE)_core $(CYCLE)_whole

$(SHIM): $(SHIM_SRC) tests/faults/shim.h
	@mkdir -p $(@D)
	$(CC) -std=gnu11 -O1 -g -fPIC -shared $(WARN) -o $@ $(SHIM_SRC)

$(SCRIPTS): $(BUILD)/%: %.sh
	@mkdir -p $(@D)
	install -m 755 $< $@

.SECONDARY:
-include $(shell find $(BUILD) -type f -name '*.d' 2>/dev/null)
