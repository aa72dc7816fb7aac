#!/bin/sh
# Checks the types of the page's scripts. Needs node; TypeScript is fetched
# into a cache of its own and is no part of the program.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
cache=${XDG_CACHE_HOME:-$HOME/.cache}/dwellwright-typescript
[ -x "$cache/node_modules/.bin/tsc" ] || npm install --silent --no-audit --no-fund --ignore-scripts --prefix "$cache" typescript@5.9.3
"$cache/node_modules/.bin/tsc" -p "$here/jsconfig.json"
