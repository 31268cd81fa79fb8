#!/bin/sh
# lint.sh [--write] - the page's modules and their tests are formatted, and free of likely mistakes.
set -eu
cd "$(dirname "$0")/../.."
bin=tests/page/node_modules/.bin
set -- "${1:---check}"
"$bin/prettier" --config tests/page/.prettierrc.json "$1" --log-level warn \
    plots/report.css plots/page/*.js plots/page/*.css plots/page/*.json tests/page/*.js
"$bin/eslint" --config tests/page/eslint.config.js plots/page/*.js tests/page/*.js
