#!/usr/bin/env bash
# What takes longer than a change should wait for: a million inputs for the computations, every byte of one event of each
# kind, 500 kills, and ten times as many made-up inputs. On the Release build that tests/run.sh leaves.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

built=build/release
"$built"/tests/calc/test_calc "[.long]"
"$built"/tests/record/test_record "[.long]"
KILLS=500 WITNESSMARK="$PWD/$built/witnessmark" python3 tests/record/kill_test.py
for target in typed:2000000 procedure:400000 action:200000 verify:30000; do
  "$built/tests/fuzz/fuzz_${target%:*}" "tests/fuzz/corpus/${target%:*}" "${target#*:}"
done
