# Duskline. `make` lists the targets. Needed: Go, make, git; `make test` also
# wants Chromium and Node and installs them if it may.

GO    ?= go
ADDR  ?= 127.0.0.1:8000
FUZZTIME ?= 1m

CLIENT  := build/app.wasm
COMMAND := build/duskline
SITE    := build/site
WASM    := GOOS=js GOARCH=wasm
# Screens and document are compiled without inlining: measured, 46 kB less on
# the way to a phone. The models keep it, for speed.
LEAN    := -gcflags='duskline/app/...=-l' -gcflags='duskline/calc/plan=-l'
# Without what a browser never runs: cmd/client/lean. 0.4 MB less.
LEAN_STD := -overlay build/lean.json
# wasm_exec.js comes from the Go that compiles the client.
GLUE     = $(shell $(GO) env GOROOT)/lib/wasm
STATICCHECK := honnef.co/go/tools/cmd/staticcheck@v0.8.2

.PHONY: help run build site test bench lint fuzz shots towns golden clean \
	check-format test-native test-race test-wasm test-browser

help: ## list the targets
	@grep -hE '^[a-z-]+:.*##' Makefile | sed 's/:.*## /\t/' | expand -t 14

run: site ## build everything and serve it on ADDR (127.0.0.1:8000)
	@exec $(COMMAND) serve -addr $(ADDR) -dir $(SITE)

build: ## compile the client and the command
	@mkdir -p build
	@sh .ci/lean "$(GO)" build/lean.json
	$(WASM) $(GO) build -trimpath -ldflags "-s -w" $(LEAN) $(LEAN_STD) -o $(CLIENT) ./cmd/client
	CGO_ENABLED=0 $(GO) build -trimpath -o $(COMMAND) ./cmd/server

site: build ## write the site, compressed, into build/site
	@$(COMMAND) site -client $(CLIENT) -wasm-exec "$(GLUE)/wasm_exec.js" $(SITE)

test: check-format test-native test-race test-wasm test-browser ## run every test: native, WebAssembly, browser

check-format:
	@bad="$$(gofmt -l app calc cmd web)"; if [ -n "$$bad" ]; then echo "gofmt -w these:"; echo "$$bad"; exit 1; fi
	$(GO) vet ./...
	$(WASM) $(GO) vet ./cmd/client ./app/...

test-native:
	$(GO) test $$($(GO) list ./... | grep -v /web/e2e)

# The race detector needs a C compiler. The core has no goroutines, and runs
# ten times slower with it.
test-race:
	@if command -v "$$($(GO) env CC)" >/dev/null 2>&1; then \
		echo "$(GO) test -race ./cmd/... ./app/..."; CGO_ENABLED=1 $(GO) test -race ./cmd/... ./app/...; \
	else echo "test-race: skipped, the race detector needs a C compiler (apt-get install gcc)"; fi

test-wasm:
	@sh .ci/need node nodejs
	$(WASM) $(GO) test -exec="sh '$(CURDIR)/.ci/wasm' '$(GLUE)'" ./calc/...

test-browser:
	@sh .ci/need "chromium chromium-browser google-chrome" chromium
	$(GO) test -count=1 -timeout 15m ./web/e2e

bench: site ## measure: one Outlook native and in WebAssembly, edit to redraw, size
	@sh .ci/need node nodejs
	@sh .ci/need "chromium chromium-browser google-chrome" chromium
	@GO="$(GO)" GLUE="$(GLUE)" bash .ci/bench

lint: check-format ## gofmt, vet, staticcheck
	GOBIN="$(CURDIR)/build/bin" $(GO) install $(STATICCHECK)
	build/bin/staticcheck ./...
	$(WASM) build/bin/staticcheck ./cmd/client ./app/... ./calc/...

fuzz: ## run each fuzz target for FUZZTIME (1m)
	@GO="$(GO)" FUZZTIME="$(FUZZTIME)" sh .ci/fuzz

shots: ## pictures of every room: phone and desk; Day, Glare, Night
	@sh .ci/need "chromium chromium-browser google-chrome" chromium
	DUSKLINE_SHOTS=1 $(GO) test -count=1 -timeout 15m -run '^TestShots$$' ./web/e2e

towns: ## make the list of towns anew (npm fetches what it is made from)
	$(GO) run ./app/towns/pack

golden: ## write the golden files anew; the commit says why figures moved
	@grep -rlE --include='*_test.go' 'golden\.Table\(|flag\.Bool\("update"' app calc cmd | xargs -rn1 dirname | sort -u | sed 's#^#./#' | \
		xargs -r sh -c '$(GO) test -count=1 "$$@" -args -update' golden

clean: ## remove what was built
	rm -rf build
