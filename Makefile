# make test     all checks, as CI runs them; installs what they need
# make months   ten invented months: time, value, bound, gap and verdict of each
# make bench    speed of the parts, as ratios of one run
# make fuzz     every fuzz target for a minute

GO ?= go

.PHONY: test months bench fuzz

test:
	@test -z "$$(gofmt -l cmd nest model io benchmarks)" || { echo "gofmt would change:"; gofmt -l cmd nest model io benchmarks; exit 1; }
	$(GO) vet ./...
	$(GO) tool staticcheck ./...
	CGO_ENABLED=0 $(GO) build -o /dev/null ./cmd/rackwright
	@for s in windows/amd64 darwin/amd64 darwin/arm64; do \
		echo "build and vet for $$s"; export CGO_ENABLED=0 GOOS=$${s%/*} GOARCH=$${s#*/}; \
		$(GO) build -o /dev/null ./cmd/rackwright && $(GO) vet ./cmd/rackwright || exit 1; done
	$(GO) test ./...

months:
	$(GO) run ./benchmarks/months

bench:
	$(GO) test -run '^$$' -bench . -benchtime 1s ./nest/...

fuzz:
	@for p in $$($(GO) list ./...); do for f in $$($(GO) test -list '^Fuzz' $$p | grep '^Fuzz'); do \
		$(GO) test -run '^$$' -fuzz "^$$f\$$" -fuzztime 60s -fuzzminimizetime 10x $$p || exit 1; done; done
