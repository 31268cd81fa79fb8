#!/bin/sh
# run.sh - the tests of the page, in Debian's chromium. npm serves the tests alone.
set -eu
here=$(dirname "$0")
for tool in node npm "${CHROMIUM:-chromium}"; do
    command -v "$tool" >/dev/null || { echo "check-page: $tool is missing: make deps-page"; exit 1; }
done
[ -d "$here/node_modules" ] || (cd "$here" && npm ci --no-audit --no-fund --silent)
sh "$here/lint.sh"
node --test --test-concurrency=1 "$here"/*.test.js
