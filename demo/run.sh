#!/usr/bin/env bash
# From a clean clone: installs what is missing, builds the program, plays the Marigold's engine being put together in a practice
# shop (demo/marigold.jsonl), shows what came of it, has the record verified, hands the engine over as a signed PDF and opens
# the window on it. Without a
# display it leaves pictures of the window instead. Leaves everything in build/.
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
build/release/witnessmark drive --shop "$shop" --practice < demo/marigold.jsonl > "$answers"

echo
python3 demo/show.py demo/marigold.jsonl "$answers"
echo
echo "witnessmark verify $shop"
build/release/witnessmark verify "$shop"

echo
pdf=build/demo/marigold.pdf
echo "witnessmark handover --shop $shop --build marigold --person maud --out $pdf"
build/release/witnessmark handover --shop "$shop" --build marigold --person maud --out "$pdf" <<< "nine blue herons"
build/release/witnessmark verify "$pdf"

echo
if [[ -n "${DISPLAY-}${WAYLAND_DISPLAY-}" ]]; then
  echo "The window is open on $shop; what is done there is practice too."
  build/release/witnessmark bench --shop "$shop"
  exit
fi

# The engine is finished by now; a second shop is played up to where its main caps are tight, to show work in hand.
half_way=build/demo/half-way.shop
sed '/"sign".*"main-caps"/,$d' demo/marigold.jsonl |
  build/release/witnessmark drive --shop "$half_way" --practice > build/demo/half-way.jsonl

exec {number}< <(exec Xvfb -displayfd 1 -screen 0 1280x800x24 -nolisten tcp -noreset 2>/dev/null)
server=$!
trap 'kill "$server"' EXIT
read -r -u "$number" display
picture() { # SHOP SCREEN FILE [OPTION...]
  DISPLAY=":$display" build/release/witnessmark bench --shop "$1" --screen "$2" --picture "$3" "${@:4}"
  echo "  $3"
}

echo "There is no display; the window in pictures:"
picture "$half_way" sheet build/demo/half-way.png
for screen in builds sheet log shop keys; do
  picture "$shop" "$screen" "build/demo/$screen.png"
done
picture "$shop" work build/demo/work.png --calc oil-clearance
