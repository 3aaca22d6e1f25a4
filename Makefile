# The two commands a fresh machine needs are `go run ./cmd/pairwall demo` and `make test`.
LINT = go run github.com/golangci/golangci-lint/v2/cmd/golangci-lint@v2.15.0

.PHONY: test setup go-test web-test lint generate generated bench demo

test: setup generated lint web-test go-test

setup:          ## what the tests need: Debian's chromium, npm packages by lock file
	.ci/setup

# Arithmetic over pixels is ten times slower under the race detector and has
# next to no goroutines: those packages run without it, but for the tests of
# the worker pool, which is all goroutines.
PIXELS = ./sequence/colour ./sequence/intake/... ./sequence/pages/wallshot ./sequence/proof ./cmd/pairwall/demo
# So do tests of server and store that measure photographs of proofs or read ten
# thousand orders.
LONG = 'AProofIsMeasured|ATestStripIs|ARoundIsWritten|TenThousand'

go-test:
	go vet ./...
	go test -timeout 20m $(PIXELS)
	go test -race -timeout 20m -run 'Worker|Cancelling|Close|Pool|Drafts' ./sequence/intake
	go test -timeout 20m -run $(LONG) ./server ./store
	go test -race -timeout 20m -skip $(LONG) ./server ./store
	go test -race -timeout 20m $$(go list ./... | grep -v -e /sequence/colour$$ -e /sequence/intake -e /wallshot$$ -e /sequence/proof$$ -e /cmd/pairwall -e pairwall/server$$ -e pairwall/store$$)
	go test -race -timeout 20m ./cmd/pairwall # the browser, with the machine for itself

web-test:       ## types, then the browser's model by itself
	npm --prefix web run --silent check
	npm --prefix web test --silent

lint:
	$(LINT) run --config .ci/golangci.yml ./...

generate:       ## server/openapi.json, the browser's types of it, web/dist
	go test ./server -run OpenAPI -update
	go generate ./web

generated: generate  ## fails when what is committed is not what is generated
	git diff --exit-code -- server/openapi.json web/src/net web/dist

bench:
	go test -run '^$$' -bench . -benchmem ./...

demo:
	go run ./cmd/pairwall demo
