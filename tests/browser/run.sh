#!/bin/sh
# Looks at a site in a real browser: run.sh [SITE], by default the site of the example book, written by target/debug/kerfbook
# (or $KERFBOOK). Needs node with npm, and Chromium at /usr/bin/chromium (or $CHROMIUM). The two packages it needs are put into
# a folder of their own, which is removed at the end; nothing of them is kept.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT INT TERM

if [ $# -gt 0 ]; then
    site=$(cd "$1" && pwd)
else
    site="$work/site"
    "${KERFBOOK:-$root/target/debug/kerfbook}" site --book "$root/ledger-examples/wren-and-gable" --today 2027-02-01 --out "$site"
fi
cp "$here/look.mjs" "$work/"
(cd "$work" && npm init -y >/dev/null && npm install --no-audit --no-fund --silent playwright-core@1.65.1 axe-core@4.14.1)
cd "$work" && CHROMIUM="${CHROMIUM:-/usr/bin/chromium}" node look.mjs "$site"
