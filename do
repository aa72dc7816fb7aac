#!/usr/bin/env bash
# The one entry to everything that is done with a checkout besides running it.
set -euo pipefail
cd "$(dirname "$0")"

# Linters are kept by version in the cache, outside the checkout and outside
# go.mod: what only a linter needs is nobody's dependency, and once there they
# work without a network ("go run name@version" asks the proxy every time).
cache=${XDG_CACHE_HOME:-$HOME/.cache}/dwellwright
staticcheck=$cache/staticcheck-v0.8.2
typescript=$cache/typescript-7.0.2

usage() {
	cat <<-'END'
		./do test            everything: lint, fuzz and race for a while, all tests
		./do lint            gofmt, go vet, staticcheck, tsc over the page's scripts
		./do fmt             format the Go sources
		./do fuzz [minutes]  fuzz every target in turn, 1 minute each unless said
		./do bench           benchmarks, ending with the ratios of docs/benchmarks.md
		./do shots           pictures of every page, both screens, into shots/
		./do golden          write golden files, schemas, the car file's page and README's excerpts anew
		./do build           a static binary, bin/dwellwright
	END
}

step() { printf '\n== %s\n' "$*"; }

# tools installs what the tests and linters call and this machine has not.
tools() {
	local missing=()
	command -v gcc >/dev/null || missing+=(gcc libc6-dev) # for -race
	command -v ngspice >/dev/null || missing+=(ngspice)
	command -v chromium >/dev/null || missing+=(chromium)
	command -v node >/dev/null || missing+=(nodejs)
	command -v npm >/dev/null || missing+=(npm)
	local fonts=/usr/share/fonts/truetype # text widths are judged against them
	[[ -f $fonts/liberation/LiberationSans-Bold.ttf ]] || missing+=(fonts-liberation)
	[[ -f $fonts/dejavu/DejaVuSans-Bold.ttf ]] || missing+=(fonts-dejavu-core)
	/usr/bin/python3 -c 'import numpy, scipy' 2>/dev/null || missing+=(python3-numpy python3-scipy)
	((${#missing[@]})) || return 0
	step "install ${missing[*]}"
	if ! command -v apt-get >/dev/null; then
		echo "no apt-get here: install by hand. Without ngspice and chromium their tests are skipped, loudly." >&2
		return 0
	fi
	local root=()
	((EUID == 0)) || root=(sudo)
	"${root[@]}" apt-get update -qq
	"${root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -qq -y --no-install-recommends "${missing[@]}"
}

lint() {
	step gofmt
	local ugly
	ugly=$(gofmt -l .)
	[[ -z $ugly ]] || { printf 'not formatted (./do fmt):\n%s\n' "$ugly" >&2; return 1; }
	step "go mod tidy"
	go mod tidy -diff
	step "go vet"
	go vet ./...
	step staticcheck
	[[ -x $staticcheck/staticcheck ]] || GOBIN=$staticcheck go install "honnef.co/go/tools/cmd/staticcheck@${staticcheck##*-}"
	"$staticcheck/staticcheck" ./...
	step "tsc over internal/web/static"
	[[ -x $typescript/node_modules/.bin/tsc ]] ||
		npm install --silent --no-audit --no-fund --prefix "$typescript" "typescript@${typescript##*-}"
	"$typescript/node_modules/.bin/tsc" --project .
}

# fuzz runs every fuzz target for a time.
# A fuzzer that is stopped while its workers are busy says "context deadline
# exceeded" and fails although it found nothing: what it finds it writes down.
fuzz() {
	local file target said
	while IFS=: read -r file target; do
		step "fuzz $file $target, $1"
		if ! said=$(go test -run '^$' -fuzz "^$target\$" -fuzztime "$1" "./$(dirname "$file")" 2>&1); then
			echo "$said"
			[[ $said == *"context deadline exceeded"* && $said != *"Failing input"* && $said != *panic* ]] || return 1
			continue
		fi
		tail -n 2 <<<"$said"
	done < <(grep -ro '^func Fuzz[A-Za-z]*' --include='*_test.go' -- * | sed 's/func //' | sort)
}

race() { # where goroutines are
	step "go test -race"
	go test -race -short ./prove ./internal/workshop ./internal/web
}

golden() {
	local dir
	for dir in $(grep -rl 'flag.Bool("update"' --include='*_test.go' --exclude-dir=house -- * | xargs -n1 dirname | sort -u); do
		go test "./$dir" -update
	done
	UPDATE_SCRIPTS=1 go test ./internal/cli
	go test ./internal/house -run Readme -update
}

case ${1-} in
test)
	tools
	lint
	raced=$(mktemp)
	set -m # a process group of its own, to be stopped whole
	race >"$raced" 2>&1 & # one package of it takes as long as all fuzzing
	racing=$!
	set +m
	trap 'kill -- -"$racing" 2>/dev/null || true; rm -f "$raced"' EXIT
	fuzz 2s
	wait "$racing" || { cat "$raced" >&2; exit 1; }
	cat "$raced"
	step "go test"
	go test -timeout 20m ./...
	;;
lint)
	tools
	lint
	;;
fmt) gofmt -w . ;;
fuzz) fuzz "${2:-1}m" ;;
bench)
	tools
	go test -run '^$' -bench . -benchmem ./...
	step "from a slider's move to the page"
	DWELLWRIGHT_BENCH=1 go test -count=1 -v -run 'IsQuick|AreQuick' ./internal/browsertest
	step "ratios to the outside judge"
	DWELLWRIGHT_BENCH=1 go test -count=1 -v -run TestRatios ./internal/judge
	;;
shots)
	tools
	DWELLWRIGHT_SHOTS=$PWD/shots go test -count=1 -run TestPictures ./internal/browsertest
	ls shots
	;;
golden) golden ;;
build) CGO_ENABLED=0 go build -trimpath -o bin/dwellwright ./cmd/dwellwright && ls -l bin/dwellwright ;;
help | -h | --help) usage ;;
*)
	usage >&2
	exit 2
	;;
esac
