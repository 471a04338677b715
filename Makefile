# make demo: build, screen the demo town, say where to look
# make test: everything that must hold before a change lands
GO          ?= go
STATICCHECK  = honnef.co/go/tools/cmd/staticcheck@v0.8.2
VERSION     ?= $(shell git describe --tags --always --dirty 2>/dev/null || echo unknown)
READERS      = testdata/readers
FUZZTIME    ?= 60s
SIZES       ?= 10000,100000,1000000
LEAN        ?=

.PHONY: beam beam-big release licences offline man site build demo test lint unit race faults readers bench cover fuzz fidelity golden docs clean scale

build:
	$(GO) build -trimpath -ldflags "-X main.version=$(VERSION)" -o bin/plinth ./cmd/plinth

demo: build
	bin/plinth sample --force demo
	@bin/plinth screen --tolerate-rejects 8 demo/plan.toml
	@echo
	@echo "Open demo/out/report.html: the answer, the ranked table, the map. Beside it candidates.csv and .parquet"
	@echo "(one row a building and measure), buildings.csv, .parquet and .gpkg (one row a building, for maps),"
	@echo "rejects.csv (rows that could not be used, and why), manifest.json (what was done with what)."
	@echo "How a number came about: bin/plinth explain demo/plan.toml CS-00001"

test: lint race readers demo
	bin/plinth audit demo/out
	node $(READERS)/check.mjs demo/out

lint:
	@test -z "$$(gofmt -l .)" || { gofmt -l .; echo "run gofmt -w on the files above"; exit 1; }
	$(GO) vet ./...
	$(GO) run $(STATICCHECK) ./...

unit:
	$(GO) test ./...

race: readers
	$(GO) test -race ./...

# What docs/reliability.md says: killed, full, damaged, changed, without end. Every test
# the page names has to run; what was skipped is said.
faults:
	@names=$$(grep -oE '`(Test|Fuzz)[A-Za-z0-9]+`' docs/reliability.md | tr -d '`' | sort -u); \
	out=$$(mktemp) && trap 'rm -f "$$out"' EXIT; \
	$(GO) test -count 1 -v -run "^($$(echo $$names | tr ' ' '|'))\$$" ./... > "$$out" 2>&1; code=$$?; \
	[ $$code -eq 0 ] || cat "$$out"; \
	awk '/^=== /{test=$$3} /_test\.go:/{said[test]=$$0} /--- SKIP/{print; print said[$$3]}' "$$out"; \
	for n in $$names; do \
		grep -qE -e "^--- (PASS|SKIP|FAIL): $$n " "$$out" || { echo "$$n is named in docs/reliability.md and did not run"; code=1; }; \
	done; \
	echo "$$(echo "$$names" | wc -l) names, $$(grep -c -e '^--- PASS' "$$out") tests passed, $$(grep -c -e '--- SKIP' "$$out") skipped"; \
	exit $$code

readers: $(READERS)/node_modules/.package-lock.json

$(READERS)/node_modules/.package-lock.json: $(READERS)/package-lock.json
	npm ci --prefix $(READERS) --no-audit --no-fund

# What a screening costs by the size of the stock, into docs/performance.md; minutes, on a machine that rests.
scale: readers
	$(GO) run ./cmd/scale -sizes $(SIZES) -lean "$(LEAN)"

# The run over machines, a module of its own, in one process: equal to plinth screen
# for the demo town and for 5,000 buildings.
beam:
	cd cmd/plinth-beam && $(GO) vet ./... && $(GO) run $(STATICCHECK) ./... && $(GO) test ./...
	$(GO) run ./cmd/licences cmd/plinth-beam | diff docs/licences-beam.md - || { echo "make licences rewrites it"; exit 1; }
	cd cmd/plinth-beam && $(GO) build -trimpath -ldflags "-X main.version=$(VERSION)" -o ../../bin/plinth-beam .

# The same for 100,000 buildings: some minutes and 4 GB.
beam-big:
	cd cmd/plinth-beam && PLINTH_BEAM_BUILDINGS=100000 $(GO) test -count 1 -v -run TestStock -timeout 60m .

# The program as it is given away, without C: built twice to the same bytes, the second
# time in another folder and with nothing built before, and beside it its manual page, the
# modules it is made of and their licences.
release: export CGO_ENABLED = 0
release:
	@rm -rf bin/release && mkdir -p bin/release && copy=$$(mktemp -d) && trap 'rm -rf "$$copy"' EXIT && \
	build() { mkdir -p "$$1" && git archive HEAD | tar -x -C "$$1" && \
		(cd "$$1" && $(GO) build -trimpath -buildvcs=false -ldflags "-X main.version=$(VERSION)" -o plinth.out ./cmd/plinth); } && \
	build "$$copy/once" && (GOCACHE="$$copy/cache"; export GOCACHE; build "$$copy/again/further") && \
	cmp "$$copy/once/plinth.out" "$$copy/again/further/plinth.out" && \
	cp "$$copy/once/plinth.out" bin/release/plinth && cp "$$copy/once/docs/plinth.1" bin/release && \
	(cd "$$copy/once" && $(GO) run ./cmd/licences -texts cmd/plinth) > bin/release/plinth.licences.txt && \
	(cd bin/release && $(GO) version -m plinth > plinth.modules.txt && sha256sum plinth* | tee SHA256SUMS)

# Under which licences everything comes that is linked; ends with an error where one is not accepted.
licences:
	@for p in plinth plinth-beam; do \
		page=docs/licences$${p#plinth}.md; \
		$(GO) run ./cmd/licences cmd/$$p > $$page.new && mv $$page.new $$page || { rm -f $$page.new; exit 1; }; \
	done

# The demo without any network interface: the program fetches nothing.
offline: build
	@if ! unshare -n true 2>/dev/null; then echo "skipped: only root may take the network away (unshare -n)"; exit 0; fi; \
	d=$$(mktemp -d) && trap 'rm -rf "$$d"' EXIT && \
	unshare -n bin/plinth sample "$$d/town" && unshare -n bin/plinth screen --quiet --tolerate-rejects 8 "$$d/town/plan.toml" && \
	unshare -n bin/plinth audit "$$d/town/out"

bench:
	$(GO) test -run '^$$' -bench . -benchmem ./...

cover:
	$(GO) test -coverprofile coverage.out ./... && $(GO) tool cover -func coverage.out | tail -1

# Every fuzz target of every package, one after the other. SQLite is an interpreter:
# without counters in it a GeoPackage is read a hundred times faster.
fuzz:
	@for p in $$($(GO) list ./...); do \
		for f in $$($(GO) test -list '^Fuzz' $$p | grep '^Fuzz'); do \
			echo "$$p $$f"; $(GO) test -gcflags='modernc.org/...=-d=libfuzzer=0' -run '^$$' -fuzz "^$$f$$" \
				-fuzztime $(FUZZTIME) -fuzzminimizetime 100x $$p || exit 1; \
		done; \
	done

# Spectral demand against time histories over a stated grid; a minute or two.
fidelity:
	$(GO) run ./cmd/fidelity > docs/fidelity.md.new && mv docs/fidelity.md.new docs/fidelity.md

# Rewrites the golden files and generated pages; read the diff before committing it.
golden docs:
	UPDATE=1 $(GO) test ./cmd/commands ./cmd/licences ./pipeline/...

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
