# make test   everything that must pass before a commit
# make build  the program, build/legwork

GO ?= go
export CGO_ENABLED ?= 0

STATICCHECK_VERSION = v0.8.2
STATICCHECK = build/tools/$(STATICCHECK_VERSION)/staticcheck

.PHONY: test build setup fmt vet staticcheck unit

test: setup fmt vet staticcheck unit

build:
	$(GO) build -trimpath -ldflags '-s -w' -o build/legwork ./cmd/legwork

setup:
	@internal/setup.sh

fmt:
	@bad=$$(find . \( -name .git -o -name build -o -name node_modules \) -prune -o -name '*.go' -print | xargs gofmt -l); \
	if [ -n "$$bad" ]; then echo "gofmt would change:" $$bad >&2; exit 1; fi

vet:
	$(GO) vet ./...

# The linter is built once, outside this module's requirements.
staticcheck:
	@if [ ! -x $(STATICCHECK) ]; then \
		GOBIN="$(CURDIR)/$(dir $(STATICCHECK))" $(GO) install honnef.co/go/tools/cmd/staticcheck@$(STATICCHECK_VERSION) || \
		if [ -n "$$LEGWORK_REQUIRE_ALL" ]; then exit 1; fi; \
	fi
	@if [ -x $(STATICCHECK) ]; then echo staticcheck ./...; $(STATICCHECK) ./...; \
	else echo "skipped: staticcheck $(STATICCHECK_VERSION) could not be built"; fi

unit:
	@$(GO) run ./internal/testrun ./...
	@if [ -z "$$LEGWORK_REFERENCE" ]; then \
		echo "skipped: comparisons with published figures outside this repository; LEGWORK_REFERENCE names no folder"; fi
