#!/usr/bin/env bash
# How well the tests judge the arithmetic and the engine: changes one small thing of `src/units/` or `src/costing/` at a time
# (cargo-mutants) and sees whether a test fails. Not part of .ci/run: every mutant is a build. The last figures, and the mutants that
# may survive, with the reason, stand in DEVELOPERS.md.
#
#   tests/mutants/run.sh units             all mutants of the stage, on a copy of the tree
#   tests/mutants/run.sh costing 0/20      every twentieth
#   tests/mutants/run.sh costing 0/1 -F 'Shelf::take'    only those whose name fits; what follows goes to cargo-mutants
#
# The outcome lies in target/mutants-<stage>/mutants.out/: caught.txt, missed.txt, timeout.txt, unviable.txt. Exit status 2 where a mutant
# was missed.
set -euo pipefail
cd "$(dirname "$0")/../.."

stage=${1:-}
shard=${2:-0/1}
shift "$(($# < 2 ? $# : 2))"
case $stage in
units) tests=(--lib --test published --test golden) ;;
costing) tests=(--lib --test golden --test published --test hand-worked --test diagnostics --test properties --test cli) ;;
*)
    echo 'usage: tests/mutants/run.sh units|costing [K/N] [what cargo-mutants takes]' >&2
    exit 1
    ;;
esac

if ! command -v cargo-mutants >/dev/null; then
    cargo install cargo-mutants --locked
fi
mkdir -p "target/mutants-$stage"

# A few random books are enough here: what they would find at last, they mostly find at first.
export PROPTEST_CASES=${PROPTEST_CASES:-8}
cargo mutants --file "src/$stage/**" --shard "$shard" --sharding round-robin --jobs 1 --timeout-multiplier 5 --minimum-test-timeout 60 \
    --output "target/mutants-$stage" "$@" -- "${tests[@]}"
