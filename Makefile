# Short names for what is run often; the commands themselves are in README.md
# and .ci/run.
GO ?= go
FUZZTIME ?= 10s
ARGS ?= --help

.PHONY: all test vet lint race fuzz bench golden run ci

all: vet test

test:
	$(GO) test ./...

vet:
	$(GO) vet ./...

lint:
	golangci-lint run ./...

race:
	$(GO) test -race -short ./...

# Every fuzz target in turn, FUZZTIME each.
fuzz:
	@grep -rHoE --include='*_test.go' '^func Fuzz[A-Za-z0-9_]*' . \
	| sed -E 's|^(.*)/[^/]*:func (.*)$$|\1 \2|' | sort -u \
	| while read -r dir name; do \
		$(GO) test -run='^$$' -fuzz="^$$name\$$" -fuzztime=$(FUZZTIME) "$$dir" || exit 1; \
	done

bench:
	$(GO) test -run='^$$' -bench=. -benchmem ./...

# Rewrites accepted outputs: look at old and new before committing.
golden:
	$(GO) test $$($(GO) list -f '{{$$p := .ImportPath}}{{range .TestImports}}{{if eq . "fay/render/rendertest"}}{{$$p}}{{end}}{{end}}{{range .XTestImports}}{{if eq . "fay/render/rendertest"}}{{$$p}}{{end}}{{end}}' ./...) -update

run:
	$(GO) run ./cmd/fay $(ARGS)

ci:
	.ci/run
