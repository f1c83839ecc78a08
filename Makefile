# A fresh machine needs Go, Node with npm, make and apt. Everything else that a
# target needs, it fetches with the ordinary clients.
#
#   make run      an invented service to look around in, on http://127.0.0.1:8080
#   make dev      the same on :8090, built and loaded anew after each change
#   make test     everything that must hold before a change lands
#   make bundle   the front end and the engine into embed/dist
#   make build    the program with all of it into bin/doorsill

.DELETE_ON_ERROR:
.PHONY: run dev test bundle build types check-go check-analysis check-ts check-browser check-faults check-reproducible check-webkit audit nightly mutation screens bench tools-cc tools-chromium tools-webkit clean

# What "doorsill version" calls the sources: the commit, and whether files differ
# from it. Set it where the sources do not come from a git repository.
REVISION ?= $(shell git rev-parse HEAD 2>/dev/null)$(if $(shell git status --porcelain 2>/dev/null),-dirty)

apt_install = sudo=; [ "$$(id -u)" = 0 ] || sudo=sudo; \
	$$sudo apt-get update -q && $$sudo env DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends

run: build
	bin/doorsill demo

dev: node_modules/.package-lock.json
	go run ./cmd/dev

test: check-go check-analysis check-ts check-browser check-faults

# Each step that runs tests takes its report away first and writes it anew, so
# that a report is always of the last run. The form is JUnit's.
reports = .cache/tests
gotest = go run gotest.tools/gotestsum@v1.13.0 --format standard-quiet

# npm writes this file when it has installed what package-lock.json names.
node_modules/.package-lock.json: package-lock.json package.json
	npm ci --no-audit --no-fund
	@touch $@

bundle: node_modules/.package-lock.json
	go run ./cmd/bundle

# The same bytes wherever it is built: no C compiler's libraries, no folder, and
# the revision as the one name of the sources.
build: bundle
	CGO_ENABLED=0 go build -trimpath -buildvcs=false -ldflags "-s -w -X main.revision=$(REVISION)" -o bin/doorsill ./cmd/doorsill

# What follows from the Go types: methods that read, write and check, JSON Schemas,
# TypeScript declarations. A test fails while they are stale.
types:
	go run ./cmd/bundle types

check-go: tools-cc node_modules/.package-lock.json
	go mod tidy -diff
	go run ./cmd/bundle -check
	@unformatted=$$(gofmt -l cmd embed internal server); [ -z "$$unformatted" ] || { echo "gofmt would change:"; echo "$$unformatted"; exit 1; }
	go vet ./...
	GOOS=wasip1 GOARCH=wasm go vet ./cmd/engine
	@mkdir -p $(reports) && rm -f $(reports)/go.xml $(reports)/simulation.xml
	$(gotest) --junitfile $(reports)/go.xml -- -race ./...
	$(gotest) --junitfile $(reports)/simulation.xml -- -count=1 ./internal/simulation ./internal/powercut ./internal/engine ./internal/engine/trend ./internal/engine/passage

# What a reader would miss: misused calls, dead code, what is deprecated. Pinned,
# so that a new rule comes in with a change and not by itself.
check-analysis:
	go run honnef.co/go/tools/cmd/staticcheck@v0.8.2 ./...
	@unreached=$$(go run golang.org/x/tools/cmd/deadcode@v0.52.0 -test ./...) || exit 1; \
		[ -z "$$unreached" ] || { echo "neither a program nor a test reaches:"; echo "$$unreached"; exit 1; }

# Known holes in what is linked and fetched. Both ask a database on the network:
# one that can not be reached is said and is no failure; a finding is one. A hole
# may be published on any day, so this is not part of "make test".
audit: node_modules/.package-lock.json
	@out=$$(go run golang.org/x/vuln/cmd/govulncheck@v1.9.0 ./... 2>&1); code=$$?; echo "$$out"; [ $$code = 0 ] || \
		{ echo "$$out" | grep -Eq "fetching vulnerabilities|dial tcp|no such host|i/o timeout" && echo "Go modules NOT CHECKED: the database of vulnerabilities can not be reached."; }
	@out=$$(npm audit --omit=dev 2>&1); code=$$?; echo "$$out"; [ $$code = 0 ] || \
		{ echo "$$out" | grep -Eq "audit endpoint returned an error|ENOTFOUND|EAI_AGAIN|ETIMEDOUT" && echo "npm packages NOT CHECKED: the database of vulnerabilities can not be reached."; }

# Would a test notice? Names every small change to the packages that matter most
# that no test fails for; "go run ./cmd/mutate record" asks for one package.
mutation:
	go run ./cmd/mutate

# What takes too long for every change. The mutation run comes last, as one survivor
# ends it.
nightly:
	go test -count=1 -timeout 3h ./internal/simulation -run TestNothingIsLost -sim.from 0 -sim.runs 10000
	CRASH_ROUNDS=200 go test -count=1 -timeout 3h ./cmd/doorsill -run Fault31KilledWhile -v
	$(MAKE) tools-chromium build && KILLS=17 node frontend/browsertest/run.mjs fault-kill
	KILLS=4 KEPT=all node frontend/browsertest/run.mjs kept
	POWER_CUTS=20000 go test -count=1 -timeout 3h ./internal/powercut -v
	FLIPS=20000 go test -count=1 -timeout 3h ./internal/verify -run FlippedBits -v
	FLIPS=5000 go test -count=1 -timeout 3h ./server -run FlippedBits -v
	@grep -rl '^func Fuzz' --include=*_test.go cmd internal server | while read -r file; do \
		sed -n 's/^func \(Fuzz[A-Za-z0-9_]*\)(.*/\1/p' "$$file" | while read -r target; do \
			echo "fuzz $$target of $$file"; \
			go test "./$$(dirname "$$file")" -run '^$$' -fuzz "^$$target\$$" -fuzztime 1m || exit 1; \
		done || exit 1; \
	done
	$(MAKE) check-reproducible
	$(MAKE) mutation

# Builds everything twice, from empty caches, in two folders, and wants the same bytes.
check-reproducible: node_modules/.package-lock.json
	go run ./cmd/reproduce

check-ts: node_modules/.package-lock.json
	npx tsc --noEmit
	npx prettier --check frontend .oxlintrc.json .prettierrc.json
	npx oxlint --deny-warnings frontend
	go run ./cmd/bundle unit
	@mkdir -p $(reports) && rm -f $(reports)/unit.xml
	node --test --test-reporter=spec --test-reporter-destination=stdout \
		--test-reporter=junit --test-reporter-destination=$(reports)/unit.xml .cache/unit

check-browser: tools-chromium build
	@rm -f $(reports)/browser.xml
	node frontend/browsertest/run.mjs

# Names every test that was skipped, and fails unless each named fault has a test
# that ran and passed. What Go has in its cache of tests passed with the same
# program, files and environment; .ci/run does without the cache.
check-faults: check-go check-ts check-browser
	go run ./cmd/faults $(reports)/go.xml $(reports)/simulation.xml $(reports)/unit.xml $(reports)/browser.xml

# The offline story and the browser's profile in WebKit as well. It needs half a minute and a driver that
# not every machine has, so "make test" goes without.
check-webkit: tools-webkit build
	node --test --test-concurrency=1 --test-reporter=spec frontend/browsertest/webkit.mjs frontend/browsertest/webkit-profile.mjs

# Pictures of every screen at the three sizes, to be looked at by a person.
screens: tools-chromium build
	node frontend/browsertest/screens.mjs

bench: tools-chromium build
	go test -run '^$$' -bench . -benchmem ./...
	node frontend/browsertest/bench.mjs
	node frontend/browsertest/walk.mjs
	go run ./cmd/bundle engine .cache/engine.wasm
	go test -count=1 -run Questions ./cmd/engine -questions $(CURDIR)/.cache/questions.json
	node frontend/browsertest/bench-engine.mjs .cache/engine.wasm .cache/questions.json

# The race detector needs a C compiler.
tools-cc:
	@command -v cc >/dev/null || { $(apt_install) gcc libc6-dev; }

tools-chromium:
	@command -v chromium >/dev/null || { $(apt_install) chromium fonts-dejavu-core; }

tools-webkit:
	@command -v WebKitWebDriver >/dev/null && command -v xvfb-run >/dev/null && /usr/bin/python3 -c 'import gi; gi.require_version("WebKit2", "4.1")' 2>/dev/null || \
		{ $(apt_install) webkit2gtk-driver xvfb xauth python3-gi gir1.2-webkit2-4.1; }

clean:
	rm -rf .cache
	find embed/dist -mindepth 1 ! -name .keep -delete
