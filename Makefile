# make test     all checks, as CI runs them; installs what they need
# make reference   of these, the comparison with lp_solve and CBC
# make readers  what reads papers in the tests: text, pictures, codes
# make browser  of these, the page in a browser
# make months   twenty invented months: time, value, bound, gap and verdict of each
# make ripmonths   ten invented months with rips: the same, and what ripping saves
# make published   published bin-packing instances of ../shared/data: optima found and proven, beside what others publish
# make kills    writers of a book killed 1,000 times
# make bench    speed of the parts, as ratios of one run
# make pictures the pictures of README.md, as the demo gives them now
# make fuzz     every fuzz target for a minute, or as long as FUZZTIME says

GO ?= go

.PHONY: test reference readers browser months ripmonths published kills bench pictures fuzz

test: reference readers browser
	@test -z "$$(gofmt -l cmd nest model io benchmarks)" || { echo "gofmt would change:"; gofmt -l cmd nest model io benchmarks; exit 1; }
	$(GO) vet ./...
	$(GO) tool staticcheck ./...
	CGO_ENABLED=0 $(GO) build -o /dev/null ./cmd/rackwright
	@for s in windows/amd64 darwin/amd64 darwin/arm64; do \
		echo "build and vet for $$s"; export CGO_ENABLED=0 GOOS=$${s%/*} GOARCH=$${s#*/}; \
		$(GO) build -o /dev/null ./cmd/rackwright && $(GO) vet ./cmd/rackwright || exit 1; done
	$(GO) test ./...

# lp_solve's header and library, the command cbc and a C compiler: for these tests only, no part of what is built.
SOLVERS = command -v cbc >/dev/null && command -v gcc >/dev/null && test -f /usr/include/lpsolve/lp_lib.h
reference:
	@$(SOLVERS) || { \
		root=; test "$$(id -u)" = 0 || root=sudo; \
		$$root apt-get update && $$root apt-get install -y --no-install-recommends liblpsolve55-dev coinor-cbc gcc libc6-dev; $(SOLVERS); \
	} || { echo "The tests need the Debian packages liblpsolve55-dev, coinor-cbc, gcc and libc6-dev, and they could not be installed: install them by hand." >&2; exit 1; }
	$(GO) vet -tags lpsolve ./nest/...
	$(GO) tool staticcheck -tags lpsolve ./nest/...
	CGO_ENABLED=1 $(GO) test -tags lpsolve -run Reference ./nest/...

# Readers of what is printed, which others wrote: for tests only, too.
READERS = command -v pdftotext >/dev/null && command -v pdftoppm >/dev/null && command -v zbarimg >/dev/null
readers:
	@$(READERS) || { \
		root=; test "$$(id -u)" = 0 || root=sudo; \
		$$root apt-get update && $$root apt-get install -y --no-install-recommends poppler-utils zbar-tools; $(READERS); \
	} || { echo "The tests need the Debian packages poppler-utils and zbar-tools, and they could not be installed: install them by hand." >&2; exit 1; }

# A browser and a font, for the tests of the page only.
BROWSER = command -v chromium >/dev/null && test -d /usr/share/fonts/truetype/dejavu
browser: readers
	@$(BROWSER) || { \
		root=; test "$$(id -u)" = 0 || root=sudo; \
		$$root apt-get update && $$root apt-get install -y --no-install-recommends chromium fonts-dejavu-core; $(BROWSER); \
	} || { echo "The tests need the Debian packages chromium and fonts-dejavu-core, and they could not be installed: install them by hand." >&2; exit 1; }
	$(GO) vet -tags browser ./io/page
	$(GO) tool staticcheck -tags browser ./io/page
	$(GO) test -tags browser -run Browser ./io/page

months:
	$(GO) run ./benchmarks/months -seeds 1-10,101-110

ripmonths:
	$(GO) run ./benchmarks/months -rips -pieces 400 -seeds 1-10

# The instances may not be shipped: PUBLISHED says where they lie. SAMPLE, of how many of each file; 0 is all.
PUBLISHED ?= ../shared/data
SAMPLE ?= 8
published:
	$(GO) run ./benchmarks/published -data $(PUBLISHED) -sample $(SAMPLE) -seconds 60 -work 60000 -jobs 2 -cbc 60

kills:
	RACKWRIGHT_KILLS=1000 $(GO) test ./cmd/rackwright -run 'Outlives?Kills' -count=1 -v -timeout 2h

bench:
	$(GO) test -run '^$$' -bench . -benchtime 1s ./nest/... ./io/book ./io/outcome

pictures:
	$(GO) test ./cmd/rackwright -run 'Scripts/demo$$' -count=1 -update

# The planner first, where most can go wrong. The first failure ends it, with the input that failed. Go's fuzzer sometimes calls it a failure
# that its time is up ("context deadline exceeded"): then there is no such input, and those of the tests pass.
FUZZTIME ?= 60s
fuzz:
	@list=$$($(GO) test -list '^Fuzz' ./nest/... ./io/... ./model ./...) || { echo "$$list"; exit 1; }; \
	echo "$$list" | awk '/^Fuzz/ { f[n++] = $$1 } /^ok/ { for (i = 0; i < n; i++) print $$2, f[i]; n = 0 }' | while read -r p f; do \
		echo "fuzz $$p $$f for $(FUZZTIME)"; \
		dir=$$($(GO) list -f '{{.Dir}}' $$p)/testdata/fuzz/$$f; before=$$(ls $$dir 2>/dev/null); \
		$(GO) test -run '^$$' -fuzz "^$$f\$$" -fuzztime $(FUZZTIME) -fuzzminimizetime 10x $$p || { \
			new=$$(ls $$dir 2>/dev/null | grep -vxF "$$before"); \
			for n in $$new; do echo "the input that failed, $$dir/$$n:"; cat "$$dir/$$n"; done; \
			test -z "$$new" && $(GO) test -run "^$$f\$$" $$p || exit 1; }; done
