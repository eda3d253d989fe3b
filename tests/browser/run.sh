#!/bin/sh
# Looks at the pages in a real browser: run.sh [SITE]. Without SITE: the site of the example book, that of the book that attacks its pages
# (attack/), and `kerfbook preview`, all by target/debug/kerfbook (or $KERFBOOK). Needs node with npm, and Chromium at /usr/bin/chromium
# (or $CHROMIUM). The two packages it needs are put into a folder of their own, which is removed at the end; nothing of them is kept.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT INT TERM
kerfbook=${KERFBOOK:-$root/target/debug/kerfbook}
example="$root/ledger-examples/wren-and-gable"

cp "$here"/*.mjs "$work/"
(cd "$work" && npm init -y >/dev/null && npm install --no-audit --no-fund --silent playwright-core@1.65.1 axe-core@4.14.1)
export CHROMIUM="${CHROMIUM:-/usr/bin/chromium}"
if [ $# -gt 0 ]; then
    site=$(cd "$1" && pwd)
    cd "$work" && node look.mjs - - "$work" "$site"
    exit
fi
"$kerfbook" site --book "$example" --today 2027-02-01 --out "$work/site" >/dev/null
# The names of the book's own files attack too; they are given here, since not every disk takes them.
mkdir "$work/attack"
cp -R "$here/attack/receipts" "$work/attack/"
cp "$here/attack/shop.kerf" "$work/attack/shop'><img src=x onerror=window.attacked='file'>.kerf"
mkdir "$work/attack/<b> & %2e%2e"
cp "$here/attack/2026.kerf" "$work/attack/<b> & %2e%2e/2026 \$(id) \`id\`.kerf"
"$kerfbook" site --book "$work/attack" --today 2026-12-31 --out "$work/attacked" >/dev/null
cd "$work" && node look.mjs "$kerfbook" "$example" "$work" "$work/site" "$work/attacked"
