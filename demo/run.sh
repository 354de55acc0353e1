#!/usr/bin/env bash
# From a clean clone: installs what is missing, builds the program, plays a short block being put together in a practice
# shop (demo/short-block.jsonl), shows what came of it and has the record verified. Leaves everything in build/.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source demo/setup.sh

shop=build/demo/heronsgate.shop
answers=build/demo/answers.jsonl

install_packages
configure build/release Release
build build/release witnessmark

rm -rf build/demo
mkdir -p build/demo
build/release/witnessmark drive --shop "$shop" --practice < demo/short-block.jsonl > "$answers"

echo
python3 demo/show.py demo/short-block.jsonl "$answers"
echo
echo "witnessmark verify $shop"
build/release/witnessmark verify "$shop"
