#!/usr/bin/env bash
# Everything that is tested, from a clean clone: installs what is missing, looks over the sources, builds with the
# address and undefined-behaviour sanitizers and runs all tests, then the same tests on the Release build, and measures
# its speed. Stops at the first part that fails and says which.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source demo/setup.sh

part="set-up"
trap '(($? == 0)) || echo "tests/run.sh: stopped at: $part" >&2' EXIT

begin() {
  part="$1"
  echo "== $part"
}

check_format() {
  find app tests -name '*.h' -print0 -or -name '*.cpp' -print0 | xargs -0 clang-format --dry-run -Werror
}

# Reads the compile commands of build/sanitize. g++ knows warnings that clang does not; those are not its business.
check_tidy() {
  find app -name '*.cpp' -print0 | sort -z |
    xargs -0 --max-procs="$(nproc)" --max-args=4 \
      clang-tidy -p build/sanitize --quiet --extra-arg=-Wno-unknown-warning-option 2>&1 |
    sed '/ warnings\? generated\.$/d'
}

# The tests of the real window type as fast as fingers or a gauge do; where the machine stands still for a moment, fingers
# look like a gauge, so these get a second try. They come first: the last lines are the summary of all others.
run_tests() {
  local each=(--test-dir "$1" --timeout 900 --output-on-failure --no-tests=error)
  ctest "${each[@]}" --tests-regex '^window$' --repeat until-pass:2
  ctest "${each[@]}" --parallel "$(nproc)" --exclude-regex '^window$'
}

begin "packages"
install_packages

begin "formatting (clang-format)"
check_format

begin "sanitized build, configured"
configure build/sanitize Debug -DWITNESSMARK_SANITIZE=ON

begin "likely slips (clang-tidy)"
check_tidy

begin "sanitized build"
build build/sanitize

begin "tests, sanitized"
find build/sanitize -name '*.gcda' -delete
run_tests build/sanitize

begin "lines of the computations that ran"
tests/coverage.py build/sanitize

begin "release build"
configure build/release Release
build build/release

begin "speed (what is far beyond its goal is measured again before it counts)"
build/release/witnessmark speed --quick --check --in build/release

begin "tests, release"
run_tests build/release
