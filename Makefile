# slewtime - GNU make. `make help` lists the targets.

version = $(shell sed -n 's/^\#define SLEW_VERSION_$(1) //p' include/slewtime/version.h)
MAJOR   := $(call version,MAJOR)
MINOR   := $(call version,MINOR)
VERSION := $(MAJOR).$(MINOR).$(call version,PATCH)
PREFIX  ?= /usr/local
BUILD   ?= build
CC      ?= cc
CFLAGS  ?= -O3 -g
WARN    := -Wall -Wextra -Wconversion -Wshadow -Wstrict-prototypes -Wmissing-prototypes $(WERROR)
# -ffp-contract=off: the same result whether or not the machine has fused multiply-add
# hidden: a shared library shows what the public headers mark with SLEW_API, and nothing else
STD     := -std=c11 -D_POSIX_C_SOURCE=200809L -ffp-contract=off -fPIC -fvisibility=hidden \
           -fno-semantic-interposition
PLOTS   ?= $(CURDIR)/plots
PAGE    ?= $(abspath $(BUILD))/page.html
ALL_CFLAGS = $(STD) $(WARN) $(CFLAGS) $(SANITIZE) -Iinclude -Ilib -Icli -MMD -MP
LIB_LIBS := -lgsl -lgslcblas -lyaml -ludunits2 -lm -pthread
LDLIBS   := -ljansson $(LIB_LIBS)

# the core: what runs a scenario of numbers, on libm alone. lib/core stands in it for the rooms that
# it goes without, and is no part of the whole library.
ALONE_SRC := $(wildcard lib/core/*.c)
CORE_SRC  := $(wildcard lib/error/*.c lib/physics/*.c lib/keys/*.c lib/motion/*.c) $(ALONE_SRC)
LIB_SRC   := $(filter-out $(ALONE_SRC),$(wildcard lib/*/*.c lib/study/*/*.c))
CLI_SRC   := $(wildcard cli/*.c cli/*/*.c)
# the module of the page: the core, and what checks a scenario and judges a run
MODULE_SRC := $(filter-out lib/motion/machine_bytes.c,$(CORE_SRC)) $(wildcard cli/page/module/*.c) \
    $(addprefix lib/scenario/,check.c check_missing.c check_more.c pairs.c report.c) \
    lib/study/map/map_probe.c
PAGE_PARTS := $(addprefix plots/page/,page.html style.css lessons.json checks.json) \
    $(wildcard plots/page/*.js)
REF_SRC   := $(wildcard tests/reference/*.c)
SHIM_SRC  := tests/faults/shim.c
TEST_SRC  := $(filter-out $(SHIM_SRC),$(wildcard tests/unit/*.c tests/published/*.c tests/cli/*.c \
    tests/fuzz/*.c tests/faults/*.c))
BENCH_SRC := $(wildcard tests/bench/*.c)

LIB_OBJ := $(LIB_SRC:%.c=$(BUILD)/%.o)
CORE_OBJ := $(CORE_SRC:%.c=$(BUILD)/%.o)
CLI_OBJ := $(CLI_SRC:%.c=$(BUILD)/%.o)
REF_OBJ := $(REF_SRC:%.c=$(BUILD)/%.o)
TESTS   := $(TEST_SRC:%.c=$(BUILD)/%)
# preloaded into the tool by tests/faults
SHIM    := $(BUILD)/tests/faults/shim.so
# of the libraries as they are built: shell scripts
SCRIPTS := $(patsubst %.sh,$(BUILD)/%,$(wildcard tests/library/*.sh))
BENCHES := $(BENCH_SRC:%.c=$(BUILD)/%)

STATIC := $(BUILD)/libslewtime.a
CORE   := $(BUILD)/libslewtime-core.a
SONAME := libslewtime.so.$(MAJOR).$(MINOR)
SHARED := $(BUILD)/libslewtime.so.$(VERSION)
TOOL   := $(BUILD)/slewtime
TOOL_PARTS := $(BUILD)/libtool.a
# the reference solvers of the tests, on SUNDIALS and GSL; no part of the library
REF      := $(BUILD)/libreference.a
REF_LIBS := -lsundials_cvode -lsundials_nvecserial -lsundials_sunmatrixdense \
            -lsundials_sunlinsoldense

PAGE_PACKAGES := clang lld wasi-libc libclang-rt-14-dev-wasm32 chromium poppler-utils \
    $(if $(shell command -v npm),,nodejs npm)
PACKAGES := gcc libc6-dev pkg-config libgsl-dev libyaml-dev libjansson-dev libudunits2-dev \
            libcmocka-dev libsundials-dev gnuplot-nox

.PHONY: all
all: $(STATIC) $(CORE) $(SHARED) $(TOOL) ## build the libraries and the tool

.PHONY: deps deps-page
deps: ## install the Debian packages that are missing
deps-page: ## the same for page and check-page
deps-page: PACKAGES := $(PAGE_PACKAGES)
deps-foreign: PACKAGES := $(FOREIGN_PACKAGES)
deps deps-page deps-foreign:
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

FAULTS := $(filter $(BUILD)/tests/faults/%,$(TESTS))
check-faults: all $(FAULTS) $(SHIM) ## let memory, the disk, gnuplot fail everywhere: many minutes
	@SLEWTIME_TOOL=$(TOOL) SLEWTIME_BUILD=$(BUILD) SLEW_FAULTS=all sh tests/run.sh $(FAULTS)

.PHONY: check-install
check-install: ## install into a temporary folder, move it, build programs against it, uninstall
	@CC='$(CC)' bash tests/install.sh

# ---- foreign machines: byte order, word size ---------------------------------------------------

# s390x has the other byte order, i386 words of 32 bits. Debian's compilers and qemu-user; the
# libraries are Debian's own for that machine, unpacked under build/. Left out are the tests that need
# the tool or the reference, whose SUNDIALS is not fetched.
FOREIGN := s390x i386
FOREIGN_PACKAGES := gcc-s390x-linux-gnu libc6-dev-s390x-cross gcc-i686-linux-gnu \
    libc6-dev-i386-cross qemu-user
FOREIGN_TESTS := $(filter-out $(shell grep -lE '"(\.\./)*(reference|cli)/|(motion|fit)_both' $(TEST_SRC)), \
    $(wildcard $(addprefix tests/unit/,host_*.c machine_*.c motion_*.c motor_*.c physics_*.c \
    scenario_*.c study_*.c) tests/published/*.c))
s390x_TRIPLE := s390x-linux-gnu
i386_TRIPLE := i686-linux-gnu
i386_LIBS := i386-linux-gnu
# no x87: its registers hold more digits than a double, and answers would hang on the optimiser
i386_FLAGS := -msse2 -mfpmath=sse -mstackrealign
.PHONY: deps-foreign check-foreign $(FOREIGN:%=foreign-%)
deps-foreign: ## install what check-foreign needs
check-foreign: $(FOREIGN:%=foreign-%) ## run the library's tests big-endian and with 32 bits
$(FOREIGN:%=foreign-%): foreign-%:
	@sh tests/foreign/packages.sh $* $(abspath $(BUILD))/foreign/$*
	@$(MAKE) BUILD=$(BUILD)/$* FOREIGN_ROOT=$(abspath $(BUILD))/foreign/$* \
	    CC='$($*_TRIPLE)-gcc $($*_FLAGS)' AR=$($*_TRIPLE)-ar \
	    FOREIGN_LIBS=$(or $($*_LIBS),$($*_TRIPLE)) FOREIGN_CPU=$* foreign-run

ifdef FOREIGN_ROOT
ALL_CFLAGS += -isystem $(FOREIGN_ROOT)/usr/include
FOREIGN_DIRS := $(FOREIGN_ROOT)/lib/$(FOREIGN_LIBS):$(FOREIGN_ROOT)/usr/lib/$(FOREIGN_LIBS)
.PHONY: foreign-run
foreign-run: $(FOREIGN_TESTS:%.c=$(BUILD)/%)
	@RUN_BY='qemu-$(FOREIGN_CPU) -L $(FOREIGN_ROOT) -E LD_LIBRARY_PATH=$(FOREIGN_DIRS)' \
	    sh tests/run.sh $^
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

# where things are installed; share/slewtime is ours alone
BINDIR   = $(DESTDIR)$(PREFIX)/bin
LIBDIR   = $(DESTDIR)$(PREFIX)/lib
INCDIR   = $(DESTDIR)$(PREFIX)/include/slewtime
SHAREDIR = $(DESTDIR)$(PREFIX)/share/slewtime
DOCDIR   = $(DESTDIR)$(PREFIX)/share/doc/slewtime
CMAKEDIR = $(LIBDIR)/cmake/slewtime
PUT  = install -m 644
FILL = sed -e 's/@VERSION@/$(VERSION)/g' -e 's/@MAJOR@/$(MAJOR)/g' -e 's/@MINOR@/$(MINOR)/g' \
    -e 's/@SONAME@/$(SONAME)/g'

.PHONY: install uninstall
install: ## install under PREFIX (default /usr/local)
	$(MAKE) BUILD=$(BUILD)/install PLOTS='$(PREFIX)/share/slewtime/plots' \
	    PAGE='$(PREFIX)/share/slewtime/page.html' all
	install -d $(BINDIR) $(INCDIR) $(LIBDIR)/pkgconfig $(CMAKEDIR) $(SHAREDIR)/plots \
	    $(SHAREDIR)/examples/embed $(DOCDIR)
	install -m 755 $(BUILD)/install/slewtime $(BINDIR)
	$(PUT) include/slewtime/*.h $(INCDIR)
	$(PUT) $(BUILD)/install/libslewtime.a $(BUILD)/install/libslewtime-core.a $(LIBDIR)
	install -m 755 $(BUILD)/install/libslewtime.so.$(VERSION) $(LIBDIR)
	ln -sf libslewtime.so.$(VERSION) $(LIBDIR)/$(SONAME)
	ln -sf $(SONAME) $(LIBDIR)/libslewtime.so
	$(PUT) plots/*.gp plots/report.css $(SHAREDIR)/plots
	$(PUT) examples/*.yaml examples/*.csv $(SHAREDIR)/examples
	$(PUT) examples/embed/* $(SHAREDIR)/examples/embed
	$(PUT) lib/scenario/catalogue.yaml $(SHAREDIR)
	$(PUT) README.md lib/MODEL.md lib/CHANGES.md $(DOCDIR)
	if [ -f $(BUILD)/page.html ]; then $(PUT) $(BUILD)/page.html $(SHAREDIR); fi
	for pc in slewtime slewtime-core; do \
	    $(FILL) lib/$$pc.pc.in > $(LIBDIR)/pkgconfig/$$pc.pc || exit 1; done
	for part in config config-version; do \
	    $(FILL) lib/slewtime-$$part.cmake.in > $(CMAKEDIR)/slewtime-$$part.cmake || exit 1; done

uninstall: ## take away what `make install` put under PREFIX
	rm -f $(BINDIR)/slewtime $(LIBDIR)/libslewtime.a $(LIBDIR)/libslewtime-core.a \
	    $(LIBDIR)/libslewtime.so.$(VERSION) $(LIBDIR)/$(SONAME) $(LIBDIR)/libslewtime.so \
	    $(LIBDIR)/pkgconfig/slewtime.pc $(LIBDIR)/pkgconfig/slewtime-core.pc
	rm -rf $(INCDIR) $(CMAKEDIR) $(SHAREDIR) $(DOCDIR)

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

# what a saved machine is told apart by: the library's sources and the compiler as one digest
$(BUILD)/lib/motion/build.txt: $(LIB_SRC) $(wildcard include/slewtime/*.h lib/*/*.h)
	@mkdir -p $(@D)
	{ $(CC) --version; cat $^; } | cksum | tr ' ' - > $@
$(BUILD)/lib/motion/machine_bytes.o: $(BUILD)/lib/motion/build.txt
$(BUILD)/lib/motion/machine_bytes.o: ALL_CFLAGS += -DSLEW_BUILD="\"$$(cat $(BUILD)/lib/motion/build.txt)\""

$(BUILD)/cli/draw/plot.o: ALL_CFLAGS += -DSLEW_PLOTS_DIR='"$(PLOTS)"'
$(BUILD)/cli/page/template.o: ALL_CFLAGS += -DSLEW_PAGE='"$(PAGE)"'

$(STATIC): $(LIB_OBJ)
	@rm -f $@
	$(AR) rcs $@ $^

$(CORE): $(CORE_OBJ)
	@rm -f $@
	$(AR) rcs $@ $^

$(SHARED): $(LIB_OBJ)
	$(CC) $(SANITIZE) -shared -Wl,-soname,$(SONAME) -o $@ $^ $(LIB_LIBS)

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
$(FOREIGN_TESTS:%.c=$(BUILD)/%): $(BUILD)/%: $(BUILD)/%.o $(STATIC)
	$(CC) -Wl,--as-needed -Wl,-rpath-link,$(FOREIGN_DIRS) \
	    -L$(FOREIGN_ROOT)/usr/lib/$(FOREIGN_LIBS) -o $@ $^ -lcmocka $(LIB_LIBS)
else
$(TESTS) $(BENCHES): $(BUILD)/%: $(BUILD)/%.o $(TOOL_PARTS) $(REF) $(STATIC)
	$(CC) $(SANITIZE) -Wl,--as-needed -o $@ $^ -lcmocka $(REF_LIBS) $(LDLIBS)
endif

# the same program on the core with libm alone, and on the whole library
CYCLE := $(BUILD)/tests/library/cycle
$(CYCLE)_core: $(CYCLE).o $(CORE)
	$(CC) $(SANITIZE) -o $@ $^ -lm
$(CYCLE)_whole: $(CYCLE).o $(STATIC)
	$(CC) $(SANITIZE) -o $@ $^ $(LIB_LIBS)
$(BUILD)/tests/library/core: $(CYCLE)_core $(CYCLE)_whole

$(SHIM): $(SHIM_SRC)
	@mkdir -p $(@D)
	$(CC) -std=gnu11 -O1 -g -fPIC -shared $(WARN) -o $@ $<

$(SCRIPTS): $(BUILD)/%: %.sh
	@mkdir -p $(@D)
	install -m 755 $< $@

.SECONDARY:
-include $(shell find $(BUILD) -type f -name '*.d' 2>/dev/null)
