# Everything done to this repository by hand or by the CI machine goes through
# here. `make` alone prints what there is.

SHELL := bash
.SHELLFLAGS := -euo pipefail -c
.DEFAULT_GOAL := help
MAKEFLAGS += --no-print-directory

# The same flags for build, test and vet, set once: with different ones the go
# command compiles everything twice. In a clone that git will not read (another
# owner, or no git), the version is left out of the binary.
export GOFLAGS := $(strip $(filter-out -trimpath,$(shell go env GOFLAGS)) -trimpath \
	$(shell git rev-parse HEAD >/dev/null 2>&1 || echo -buildvcs=false))
# No cgo anywhere; the race detector alone needs it, and sets it for itself.
export CGO_ENABLED := 0

BIN       := bin/trunnion
TOOLS     := .tools
LINT      := $(TOOLS)/golangci-lint
BENCHSTAT := $(TOOLS)/benchstat
CHECKER   := $(TOOLS)/platforms
BILL      := $(TOOLS)/bill
DEMO      := examples/marl-estate/job.yaml
JOB       ?= $(DEMO)

# The page: built by npm into ui/dist, from where the program embeds it.
PAGE        := ui/dist/index.html
MODULES     := ui/node_modules/.package-lock.json
PAGE_SOURCE := $(shell find ui/src ui/public ui/index.html ui/vite.config.ts ui/svelte.config.js -type f 2>/dev/null)

# LANES=simd builds a program for amd64 that drives several cars side by side in the
# processor's lanes. It is not what we ship: with that experiment of the toolchain on, the
# rest of the program is a third slower (docs/adr/0006).
LANES ?=
lanes_on = $(if $(filter amd64,$(1)),GOEXPERIMENT=$(LANES))

# What the program is built for: system/processor.
PLATFORMS := windows/amd64 darwin/arm64 linux/arm64 linux/amd64

# Of them those that make check builds whole: the workshops' own, and the machine's.
# The others are type-checked from source, all libraries with them, at a tenth of the
# time; make dist builds them all.
BUILT := windows/amd64 $(shell go env GOHOSTOS)/$(shell go env GOHOSTARCH)

# The race detector watches the tests of what goroutines share: those with AtOnce in
# their name, in whichever package they are. That a package which shares anything
# has one is a house rule (atonce_test.go).
RACE_TESTS  := AtOnce
RACE_PKGS   := $(sort $(patsubst %/,./%,$(dir $(shell grep -rlE --include='*_test.go' '^func Test[A-Za-z0-9_]*$(RACE_TESTS)' chassis shop cmd 2>/dev/null))))
CC          ?= gcc
HAVE_CC     := $(shell command -v $(CC) 2>/dev/null)

FUZZTIME ?= 10s
COUNT    ?= 6
BENCH    ?= .
OLD      ?= bench/old.txt
NEW      ?= bench/new.txt

.PHONY: help
help: ## print this
	@awk 'BEGIN {FS = ":.*## "} /^[a-z-]+:.*## / {printf "  %-12s %s\n", $$1, $$2}' $(firstword $(MAKEFILE_LIST))

.PHONY: build
build: $(PAGE) ## build bin/trunnion for this machine, the page inside
	@mkdir -p bin
	$(call lanes_on,$(shell go env GOARCH)) go build -o $(BIN) ./cmd/trunnion

.PHONY: run
run: build ## open the workshop's page with the demo job in it
	$(BIN) serve

.PHONY: demo
demo: build ## assess the demo car at the command line, or JOB=path/to/job.yaml
	$(BIN) assess $(JOB)

.PHONY: page
page: $(PAGE) ## build the page into ui/dist

$(MODULES): ui/package-lock.json ui/package.json
	cd ui && npm ci --no-audit --no-fund
	@touch $@

$(PAGE): $(MODULES) $(PAGE_SOURCE)
	cd ui && npm run --silent build
	@touch $@

.PHONY: check
check: format-check vet lint house page-check verify cross licences ## format, vet, lint, floors, units, cross-builds, licences: before every push

.PHONY: format
format: $(LINT) ## rewrite the source in its one format
	$(LINT) fmt

.PHONY: format-check
format-check: $(LINT)
	@$(LINT) fmt --diff || { echo 'not in format: run make format'; exit 1; }

.PHONY: page-check
page-check: $(MODULES) ## types, lint and format of the page
	cd ui && npm run --silent check

.PHONY: generate
generate: $(MODULES) ## write the API's description and the page's types of it anew
	go test -count=1 ./shop/web -run Description -update
	cd ui && npm run --silent generate

.PHONY: verify
verify: generate ## fail if what is generated is not what is committed
	git diff --exit-code -- shop/web/testdata/openapi.json ui/src/api/schema.gen.ts

.PHONY: vet
vet:
	go vet ./...

.PHONY: lint
lint: $(LINT)
	$(LINT) run

.PHONY: house
house: ## the house rules: imports climb no floor, every number says its unit
	go test .

.PHONY: cross
cross: $(CHECKER) ## build for Windows, type-check for every other platform, without cgo
	@for p in $(BUILT); do \
		echo "build $$p"; \
		GOOS=$${p%/*} GOARCH=$${p#*/} go build ./...; \
	done
	@cd tools && ../$(CHECKER) $(filter-out $(BUILT),$(PLATFORMS))

# What tests need and the machine lacks is installed where that is allowed: by
# root, through the system's packages. What could not run is named by the last
# lines; on a CI machine that is a failure.
.PHONY: test
test: needs build ## every test: Go, race detector, page, journeys in a browser
	@rm -f .left-out
	TRUNNION_LEFT_OUT=$(CURDIR)/.left-out go test -vet=off -timeout=20m ./...
	@$(MAKE) lanes-test
	@$(MAKE) page-test
	@$(MAKE) journeys
	@$(MAKE) race
	@$(MAKE) left-out

.PHONY: needs
needs:
	@need() { \
		if [ ! -e "$$1" ] && [ -z "$$(ls $$1 2>/dev/null)" ] && [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null; then \
			apt-get -o DPkg::Lock::Timeout=300 update -qq || true; \
			DEBIAN_FRONTEND=noninteractive apt-get -o DPkg::Lock::Timeout=300 install -y -qq --no-install-recommends $$2 >/dev/null || echo "needs: $$2 could not be installed"; \
		fi; \
	}; \
	need /usr/bin/chromium 'chromium'; \
	need '/usr/lib/postgresql/*/bin/initdb' 'postgresql'; \
	need /usr/bin/pdftotext 'poppler-utils'; \
	need /usr/bin/mutool 'mupdf-tools'

.PHONY: page-test
page-test: $(MODULES)
	cd ui && npm test --silent

.PHONY: journeys
journeys: build ## whole journeys in headless Chromium
	@if [ -x /usr/bin/chromium ]; then cd ui && npm run --silent size && npm run --silent journeys; \
	else echo 'journeys: LEFT OUT, no Chromium on this machine'; [ "$(CI)" != true ]; fi

# Suites that the machine could not run, named last.
.PHONY: left-out
left-out:
	@[ -x /usr/bin/chromium ] || echo 'LEFT OUT: journeys in the browser (no Chromium)'
	@[ ! -s .left-out ] || sed 's/^/LEFT OUT: /' .left-out
	@command -v $(CC) >/dev/null || echo 'LEFT OUT: the race detector (no C compiler)'

.PHONY: race
race: ## what goroutines share, under the race detector (needs a C compiler)
ifeq ($(strip $(RACE_PKGS)),)
	@echo 'race: no test has $(RACE_TESTS) in its name: nothing was checked'; exit 1
else ifneq ($(HAVE_CC),)
	CGO_ENABLED=1 go test -race -vet=off -run='$(RACE_TESTS)' $(RACE_PKGS)
else ifeq ($(CI),true)
	@echo 'race: LEFT OUT, no C compiler ($(CC)) on this machine'; exit 1
else
	@echo 'race: LEFT OUT, no C compiler ($(CC)) on this machine'
endif

.PHONY: golden
golden: ## write the golden files anew (look at the difference before committing)
	@pkgs=$$(grep -rlE --include='*_test.go' 'flag\.Bool\("update"' . | xargs -r -n1 dirname | sort -u); \
	if [ -z "$$pkgs" ]; then echo 'golden: no test takes -update'; exit 1; fi; \
	for p in $$pkgs; do go test -count=1 "$$p" -update; done

.PHONY: fuzz
fuzz: ## each fuzz test for FUZZTIME, from its seeds
	@found=0; \
	while IFS=: read -r file name; do \
		found=1; \
		echo "fuzz $$name in $$(dirname "$$file") for $(FUZZTIME)"; \
		go test "$$(dirname "$$file")" -run='^$$' -fuzz="^$$name\$$" -fuzztime=$(FUZZTIME) -fuzzminimizetime=1x; \
	done < <(grep -rHoE --include='*_test.go' '^func Fuzz[A-Za-z0-9_]*' . | sed 's/func //' | sort); \
	if [ $$found = 0 ]; then echo 'fuzz: no fuzz test found'; exit 1; fi

.PHONY: bench
bench: ## benchmarks, COUNT times, into bench/new.txt (BENCH= picks by name)
	@mkdir -p bench
	@if [ -f $(NEW) ]; then mv $(NEW) $(OLD); fi
	go test -run='^$$' -bench='$(BENCH)' -benchmem -count=$(COUNT) ./... | tee $(NEW)

.PHONY: benchstat
benchstat: $(BENCHSTAT) ## compare the last two benchmark runs (OLD= NEW=)
	$(BENCHSTAT) $(OLD) $(NEW)

.PHONY: peers
peers: ## the ride engine beside general solvers (C, C++), into docs/bench
	$(MAKE) -C bench/peers

.PHONY: multibody
multibody: ## linkages and the driven car beside a general multibody engine, into docs/bench (needs Simbody; not run by CI)
	$(MAKE) -C bench/multibody

.PHONY: lanes-test
lanes-test: ## the ride engine in lanes against the same drives one car alone
	@if [ "$$(go env GOARCH)" = amd64 ]; then echo 'lanes:' && GOEXPERIMENT=simd go test -vet=off ./chassis/ride -run=Lanes; \
	else echo 'lanes: LEFT OUT, not an amd64 processor'; fi

.PHONY: lanes
lanes: ## the ride engine in lanes, timed, into docs/bench
	GOEXPERIMENT=simd go build -o bench/peers/build/drive-lanes ./bench/peers/drive
	bench/peers/build/drive-lanes lanes 0.1.0 > docs/bench/lanes-0.1.0.md
	@cat docs/bench/lanes-0.1.0.md

# The tests that say what they hold write it down; the page is set from that.
.PHONY: validation
validation: ## what each model is held against, how often and how closely, into docs/validation.md
	@rm -f .validation
	TRUNNION_VALIDATION=$(CURDIR)/.validation go test -count=1 $$(grep -rl --include='*_test.go' 'validation\.Against(t,' chassis shop reference proof | xargs -n1 dirname | sort -u | sed 's|^|./|')
	go test -count=1 ./reference/validation -run=PageNamesEveryModel -publish=../../docs/validation.md -records=$(CURDIR)/.validation
	@rm -f .validation

# What takes minutes is done in full here, and a tenth of it by make test.
.PHONY: studies
studies: scales-study ## the long studies in full: every input of a job moves something, a thousand cars on the scales, 200 kills during saves and 50 during searches, 200 drives
	TRUNNION_STUDIES=1 go test ./proof -count=1 -timeout=30m
	TRUNNION_STUDIES=1 go test ./shop/store -count=1 -timeout=30m -run='KilledDuringSaves|ManyAtOnce|EveryWriteFails'
	TRUNNION_STUDIES=1 go test ./chassis/roadtest -count=1 -v -timeout=60m -run='Inputs|Mistakes'
	TRUNNION_STUDIES=1 go test ./shop/pastjobs -count=1 -run=WayThereUndoesTheWayBack
	TRUNNION_STUDIES=1 go test ./cmd/trunnion -count=1 -timeout=30m -run=WorkersKilledDuringSearches
	TRUNNION_STUDIES=1 go test ./chassis/search -count=1 -v -timeout=30m -run="Exhaustion|AheadOfGeneral"

.PHONY: page-speed
page-speed: build ## the page's weight and speed, into docs/bench
	cd ui && node journeys/speed.mjs > ../docs/bench/page-0.1.0.md
	@cat docs/bench/page-0.1.0.md

.PHONY: scales-study
scales-study: ## a thousand random cars on the scales, into docs/bench
	go test ./chassis/scales -count=1 -run=PublishedTable -publish=../../docs/bench/scales-0.1.0.md

.PHONY: dist
dist: $(PAGE) $(BILL) ## binaries for every platform, with bills of material and checksums, into dist/
	@rm -rf dist && mkdir -p dist
	@for p in $(PLATFORMS); do \
		os=$${p%/*}; arch=$${p#*/}; ext=; if [ $$os = windows ]; then ext=.exe; fi; \
		echo "dist/trunnion-$$os-$$arch$$ext"; \
		if [ $$arch = amd64 ]; then export GOEXPERIMENT=$(LANES); else unset GOEXPERIMENT; fi; \
		GOOS=$$os GOARCH=$$arch go build -ldflags='-s -w' -o "dist/trunnion-$$os-$$arch$$ext" ./cmd/trunnion; \
	done
	@cp LICENSE dist/
	@for program in dist/trunnion-*; do $(BILL) -program $$program -page ui/package-lock.json -out $$program.cdx.json >/dev/null || exit 1; done
	@cd dist && sha256sum trunnion-* > SHA256SUMS

.PHONY: licences
licences: build $(BILL) ## fail at a part of the program whose licence nobody has allowed
	@$(BILL) -program $(BIN) -page ui/package-lock.json

# Two builds from two folders, each with a cache of its own, the page built anew.
.PHONY: reproducible
reproducible: ## build the program twice, from nothing and in two places, and compare the bytes
	@one=$$(mktemp -d) two=$$(mktemp -d); trap 'chmod -R u+w $$one $$two; rm -rf $$one $$two' EXIT; \
	for at in $$one $$two; do \
		git clone -q . $$at/trunnion && (cd $$at/trunnion && GOCACHE=$$at/cache $(MAKE) --no-print-directory build >/dev/null) || exit 1; \
		(cd $$at/trunnion && sha256sum bin/trunnion); \
	done; \
	cmp $$one/trunnion/bin/trunnion $$two/trunnion/bin/trunnion && echo 'the same, byte for byte'

.PHONY: clean
clean: ## remove what was built (the tools stay; rm -r .tools removes them)
	rm -rf bin dist ui/dist/assets ui/dist/index.html bench/*.txt bench/peers/build bench/multibody/build

# The tools have a module of their own, so that their libraries never mix with the
# program's. They are built into the repository's folder and rebuilt when their
# versions change.
$(LINT): tools/go.mod tools/go.sum
	@mkdir -p $(TOOLS)
	cd tools && go build -o ../$(LINT) github.com/golangci/golangci-lint/v2/cmd/golangci-lint

$(CHECKER): tools/go.mod tools/go.sum tools/platforms/main.go
	@mkdir -p $(TOOLS)
	cd tools && go build -o ../$(CHECKER) ./platforms

$(BILL): tools/go.mod tools/go.sum tools/bill/main.go
	@mkdir -p $(TOOLS)
	cd tools && go build -o ../$(BILL) ./bill

$(BENCHSTAT): tools/go.mod tools/go.sum
	@mkdir -p $(TOOLS)
	cd tools && go build -o ../$(BENCHSTAT) golang.org/x/perf/cmd/benchstat
