# make demo: build, screen the demo town, say where to look
# make test: everything that must hold before a change lands
GO          ?= go
STATICCHECK  = honnef.co/go/tools/cmd/staticcheck@v0.8.2
VERSION     ?= $(shell git describe --tags --always --dirty 2>/dev/null || echo unknown)
READERS      = testdata/readers
FUZZTIME    ?= 60s
SIZES       ?= 10000,100000,1000000
LEAN        ?=

.PHONY: beam beam-big cluster cluster-big release licences offline man site build demo test lint quick unit race processors faults readers bench cover fuzz fidelity measured golden docs clean scale

build:
	$(GO) build -trimpath -ldflags "-X main.version=$(VERSION)" -o bin/plinth ./cmd/plinth

demo: build
	@rm -f demo/plan.toml demo/buildings.csv demo/hazard.csv
	bin/plinth sample demo
	@bin/plinth screen --force --tolerate-rejects 8 demo/plan.toml
	@echo
	@echo "Open demo/out/report.html: the answer, the ranked table, the map. Beside it candidates.csv and .parquet"
	@echo "(one row a building and measure), buildings.csv, .parquet and .gpkg (one row a building, for maps),"
	@echo "rejects.csv (rows that could not be used, and why), manifest.json (what was done with what)."
	@echo "How a number came about: bin/plinth explain demo/plan.toml CS-00001"

test: lint unit race readers demo
	bin/plinth audit demo/out
	node $(READERS)/check.mjs demo/out

lint:
	@test -z "$$(gofmt -l .)" || { gofmt -l .; echo "run gofmt -w on the files above"; exit 1; }
	$(GO) vet ./...
	$(GO) run $(STATICCHECK) ./...
	GO=$(GO) .ci/deadcode

quick:
	$(GO) test -short ./...

unit: readers
	$(GO) test -skip '^TestSameBytesOnArm64$$' ./...

# What runs side by side, under the race detector: the short tests, since the detector makes each ten
# times as long and what they leave out starts other processes or repeats.
race: readers
	$(GO) test -race -short ./cmd/commands ./pipeline/... ./hazard ./retrofit/history/fidelity

# The same bytes on another kind of processor, emulated; minutes.
processors:
	$(GO) test -count 1 -v -run '^TestSameBytesOnArm64$$' ./cmd/commands

# What docs/reliability.md says: killed, full, damaged, changed, without end.
faults:
	GO=$(GO) .ci/faults

readers: $(READERS)/node_modules/.package-lock.json

$(READERS)/node_modules/.package-lock.json: $(READERS)/package-lock.json
	npm ci --prefix $(READERS) --no-audit --no-fund

# What a screening costs by the size of the stock, into docs/performance.md; minutes, on a machine that rests.
scale: readers
	$(GO) run ./cmd/scale -sizes $(SIZES) -lean "$(LEAN)"

# The run over machines, a module of its own, in one process: equal to plinth screen
# for the demo town and for 5,000 buildings.
beam: readers
	cd cmd/plinth-beam && $(GO) vet ./... && $(GO) run $(STATICCHECK) ./... && $(GO) test ./...
	$(GO) run ./cmd/licences cmd/plinth-beam | diff docs/licences-beam.md - || { echo "make licences rewrites it"; exit 1; }
	cd cmd/plinth-beam && $(GO) build -trimpath -ldflags "-X main.version=$(VERSION)" -o ../../bin/plinth-beam .

# The same for 100,000 buildings: some minutes and 4 GB.
beam-big:
	cd cmd/plinth-beam && PLINTH_BEAM_BUILDINGS=100000 $(GO) test -count 1 -v -run TestStock -timeout 60m .

# The run over machines with job service and workers in processes of their own: equal to plinth screen, and
# what happens when they are killed.
cluster:
	GO=$(GO) .ci/cluster

# The same for 100,000 buildings, with its cost: a minute or two and some gigabytes.
cluster-big:
	GO=$(GO) .ci/cluster 100000

# The program as it is given away: built twice to the same bytes, with its manual page and licences.
release:
	GO=$(GO) .ci/release $(VERSION)

# Under which licences everything comes that is linked; ends with an error where one is not accepted.
licences:
	$(GO) run ./cmd/licences cmd/plinth > docs/licences.md.new && mv docs/licences.md.new docs/licences.md
	$(GO) run ./cmd/licences cmd/plinth-beam > docs/licences-beam.md.new && mv docs/licences-beam.md.new docs/licences-beam.md

# The demo without any network interface: the program fetches nothing.
offline: build
	.ci/offline

bench:
	$(GO) test -run '^$$' -bench . -benchmem ./...

cover:
	$(GO) test -coverprofile coverage.out ./... && $(GO) tool cover -func coverage.out | tail -1

# Every fuzz target of every package for FUZZTIME.
fuzz:
	GO=$(GO) .ci/fuzz $(FUZZTIME)

# Spectral demand against time histories over a stated grid; a minute or two.
fidelity:
	$(GO) run ./cmd/fidelity > docs/fidelity.md.new && mv docs/fidelity.md.new docs/fidelity.md

# The program beside measured buildings, observed damage, element tests and printed design forces; seconds.
# It also writes the line about it in the report and in docs/limits.md.
measured:
	$(GO) run ./cmd/measured > docs/measured.md.new && mv docs/measured.md.new docs/measured.md

# Rewrites the golden files and generated pages; read the diff before committing it.
golden docs:
	UPDATE=1 $(GO) test ./cmd/commands ./cmd/evidence ./cmd/licences ./pipeline/...

# The manual as HTML that opens without a network.
site:
	$(GO) run ./cmd/site . site
	@echo "Open site/docs/index.html"

# The manual page, from the help of the commands.
man:
	UPDATE=1 $(GO) test -run Manual ./cmd/commands
	@echo "read it: man -l docs/plinth.1"

clean:
	rm -rf bin demo site coverage.out
