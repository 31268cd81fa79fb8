# slewtime - GNU make. `make help` lists the targets.

VERSION := 0.1.0
PREFIX  ?= /usr/local
BUILD   ?= build
CC      ?= cc
CFLAGS  ?= -O3 -g
WARN    := -Wall -Wextra -Wconversion -Wshadow -Wstrict-prototypes -Wmissing-prototypes $(WERROR)
# -ffp-contract=off: the same result whether or not the machine has fused multiply-add
STD     := -std=c11 -D_POSIX_C_SOURCE=200809L -ffp-contract=off -fPIC -fno-semantic-interposition
PLOTS   ?= $(CURDIR)/plots
ALL_CFLAGS = $(STD) $(WARN) $(CFLAGS) $(SANITIZE) -Iinclude -Ilib -Icli -MMD -MP
LIB_LIBS := -lgsl -lgslcblas -lyaml -ludunits2 -lm -pthread
LDLIBS   := -ljansson $(LIB_LIBS)

LIB_SRC   := $(wildcard lib/*/*.c lib/study/*/*.c)
CLI_SRC   := $(wildcard cli/*.c cli/*/*.c)
REF_SRC   := $(wildcard tests/reference/*.c)
TEST_SRC  := $(wildcard tests/unit/*.c tests/published/*.c tests/cli/*.c tests/fuzz/*.c)
BENCH_SRC := $(wildcard tests/bench/*.c)

LIB_OBJ := $(LIB_SRC:%.c=$(BUILD)/%.o)
CLI_OBJ := $(CLI_SRC:%.c=$(BUILD)/%.o)
REF_OBJ := $(REF_SRC:%.c=$(BUILD)/%.o)
TESTS   := $(TEST_SRC:%.c=$(BUILD)/%)
BENCHES := $(BENCH_SRC:%.c=$(BUILD)/%)

STATIC := $(BUILD)/libslewtime.a
SONAME := libslewtime.so.0
SHARED := $(BUILD)/libslewtime.so.$(VERSION)
TOOL   := $(BUILD)/slewtime
# the reference solvers of the tests, on SUNDIALS and GSL; no part of the library
REF      := $(BUILD)/libreference.a
REF_LIBS := -lsundials_cvode -lsundials_nvecserial -lsundials_sunmatrixdense \
            -lsundials_sunlinsoldense

PACKAGES := gcc libc6-dev pkg-config libgsl-dev libyaml-dev libjansson-dev libudunits2-dev \
            libcmocka-dev libsundials-dev gnuplot-nox

.PHONY: all
all: $(STATIC) $(SHARED) $(TOOL) ## build the libraries and the tool

.PHONY: deps
deps: ## install the Debian packages that are missing
	@missing=$$(for p in $(PACKAGES); do \
	    dpkg-query -W -f '$${Status}' $$p 2>/dev/null | grep -q 'ok installed' || echo $$p; done | \
	    tr '\n' ' '); \
	if [ -z "$$missing" ]; then echo "deps: nothing is missing"; exit 0; fi; \
	line="apt-get install -y --no-install-recommends $$missing"; \
	if [ "$$(id -u)" = 0 ]; then sudo=; \
	elif command -v sudo >/dev/null; then sudo=sudo; \
	else echo "deps: not root and no sudo; run as root, then try again:"; \
	     echo "  apt-get update && $$line"; exit 1; fi; \
	$$sudo apt-get update -q && $$sudo env DEBIAN_FRONTEND=noninteractive $$line

.PHONY: demo
demo: all ## run the main job on a shipped scenario and draw its picture
	$(TOOL) run examples/daily.yaml --plot $(BUILD)/daily.png
	@echo; echo "The picture is in $(BUILD)/daily.png"

.PHONY: check
check: all $(TESTS) ## run every test
	@SLEWTIME_TOOL=$(TOOL) SLEWTIME_SANITIZE='$(SANITIZE)' sh tests/run.sh $(TESTS)

.PHONY: bench
bench: $(BENCHES) ## measure against the reference solvers, in one run
	@for b in $(BENCHES); do $$b || exit 1; done

# every answer of every command on every example, to see what a change does to them
GOLDEN ?= $(BUILD)/golden
.PHONY: golden golden-compare
golden: all ## write every answer on every example into GOLDEN (build/golden)
	@sh tests/golden/write.sh $(TOOL) $(GOLDEN)
golden-compare: golden ## name what differs from the answers in OLD
	@[ -n "$(OLD)" ] || { echo "golden-compare: OLD=folder is missing"; exit 1; }
	@sh tests/golden/compare.sh $(OLD) $(GOLDEN)

.PHONY: install
install: ## install under PREFIX (default /usr/local)
	$(MAKE) BUILD=$(BUILD)/install PLOTS='$(PREFIX)/share/slewtime/plots' all
	install -d $(DESTDIR)$(PREFIX)/bin $(DESTDIR)$(PREFIX)/include/slewtime \
	    $(DESTDIR)$(PREFIX)/lib/pkgconfig $(DESTDIR)$(PREFIX)/share/slewtime/plots \
	    $(DESTDIR)$(PREFIX)/share/slewtime/examples
	install -m 755 $(BUILD)/install/slewtime $(DESTDIR)$(PREFIX)/bin
	install -m 644 include/slewtime/*.h $(DESTDIR)$(PREFIX)/include/slewtime
	install -m 644 $(BUILD)/install/libslewtime.a $(DESTDIR)$(PREFIX)/lib
	install -m 755 $(BUILD)/install/libslewtime.so.$(VERSION) $(DESTDIR)$(PREFIX)/lib
	ln -sf libslewtime.so.$(VERSION) $(DESTDIR)$(PREFIX)/lib/$(SONAME)
	ln -sf $(SONAME) $(DESTDIR)$(PREFIX)/lib/libslewtime.so
	install -m 644 plots/*.gp $(DESTDIR)$(PREFIX)/share/slewtime/plots
	install -m 644 examples/*.yaml examples/*.csv $(DESTDIR)$(PREFIX)/share/slewtime/examples
	install -m 644 lib/scenario/catalogue.yaml $(DESTDIR)$(PREFIX)/share/slewtime
	printf '%s\n' 'prefix=$(PREFIX)' 'libdir=$(PREFIX)/lib' '' 'Name: slewtime' 'Description: Powered fire monitors, simulated' \
	    'Version: $(VERSION)' 'Cflags: -I$(PREFIX)/include' \
	    'Libs: -L$(PREFIX)/lib -lslewtime' 'Libs.private: $(LIB_LIBS)' \
	    > $(DESTDIR)$(PREFIX)/lib/pkgconfig/slewtime.pc

FORMATTED := $(wildcard include/slewtime/*.h lib/*/*.[ch] lib/study/*/*.[ch] cli/*.[ch] cli/*/*.[ch] tests/*.h tests/*/*.[ch] \
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

$(BUILD)/%.o: %.c
	@mkdir -p $(@D)
	$(CC) $(ALL_CFLAGS) -c $< -o $@

# the built-in catalogue of causes as a C text
$(BUILD)/lib/scenario/catalogue.inc: lib/scenario/catalogue.yaml
	@mkdir -p $(@D)
	sed -e 's/[\\"]/\\&/g' -e 's/.*/"&\\n"/' $< > $@
$(BUILD)/lib/scenario/catalogue.o: $(BUILD)/lib/scenario/catalogue.inc
$(BUILD)/lib/scenario/catalogue.o: ALL_CFLAGS += -I$(BUILD)/lib/scenario

# what a saved machine is told apart by: the library's sources and the compiler as one digest
$(BUILD)/lib/motion/build.inc: $(LIB_SRC) $(wildcard include/slewtime/*.h lib/*/*.h)
	@mkdir -p $(@D)
	{ $(CC) --version; cat $^; } | cksum | sed 's/ /-/; s/.*/"&"/' > $@
$(BUILD)/lib/motion/machine_bytes.o: $(BUILD)/lib/motion/build.inc
$(BUILD)/lib/motion/machine_bytes.o: ALL_CFLAGS += -I$(BUILD)/lib/motion

$(BUILD)/cli/draw/plot.o: ALL_CFLAGS += -DSLEW_PLOTS_DIR='"$(PLOTS)"'

$(STATIC): $(LIB_OBJ)
	@rm -f $@
	$(AR) rcs $@ $^

$(SHARED): $(LIB_OBJ)
	$(CC) $(SANITIZE) -shared -Wl,-soname,$(SONAME) -o $@ $^ $(LIB_LIBS)

$(TOOL): $(CLI_OBJ) $(STATIC)
	$(CC) $(SANITIZE) -o $@ $^ $(LDLIBS)

$(REF): $(REF_OBJ)
	@rm -f $@
	$(AR) rcs $@ $^

$(TESTS) $(BENCHES): $(BUILD)/%: $(BUILD)/%.o $(REF) $(STATIC)
	$(CC) $(SANITIZE) -Wl,--as-needed -o $@ $^ -lcmocka $(REF_LIBS) $(LDLIBS)

.SECONDARY:
-include $(shell find $(BUILD) -name '*.d' 2>/dev/null)
