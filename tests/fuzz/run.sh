#!/usr/bin/env bash
# Fuzzes one target for so many seconds: tests/fuzz/run.sh parse|compile|numbers [SECONDS]. It needs a nightly Rust and `cargo install
# cargo-fuzz`. Begins with the books of the examples and tests; what it finds stands in tests/fuzz/artifacts/<target>/.
set -euo pipefail
cd "$(dirname "$0")/../.."

target=$1
seconds=${2:-600}
seeds=tests/fuzz/corpus/seeds-$target
mkdir -p "$seeds" "tests/fuzz/corpus/$target"

if [ "$target" = numbers ]; then
    # Every word and every pair of sides that the reference writes.
    grep -ohE '[0-9][0-9a-z./%-]*( [0-9]+/[0-9]+)?( x [0-9][0-9 /a-z]*)*' grammar/README.md | sort -u |
        while IFS= read -r word; do printf '%s' "$word" >"$seeds/$(printf '%s' "$word" | cksum | cut -d' ' -f1)"; done
else
    # A folder's files are one book: its shop first.
    find ledger-examples tests/golden tests/diagnostics -name '*.kerf' -printf '%h\n' | sort -u | while IFS= read -r folder; do
        { cat "$folder"/shop.kerf 2>/dev/null || true; find "$folder" -maxdepth 1 -name '*.kerf' ! -name shop.kerf | sort | xargs -r cat; } \
            >"$seeds/$(printf '%s' "$folder" | tr / -)"
    done
fi

cargo +nightly fuzz run --fuzz-dir tests/fuzz --target-dir target/fuzz --sanitizer none "$target" "tests/fuzz/corpus/$target" "$seeds" -- \
    -dict=tests/fuzz/words.dict -max_len=6000 -timeout=20 -rss_limit_mb=3000 -max_total_time="$seconds" -print_final_stats=1
