#!/usr/bin/env bash
# From a clean clone: installs what is missing, builds the program, plays two engines in practice shops, shows what came of
# them, has the records verified and hands the engines over as signed PDFs: the Teasel's, taken apart, sent to the machine
# shop with its order and put together again (demo/teardown.jsonl), and the Marigold's being put together
# (demo/marigold.jsonl), on which the window is opened. Without a display it leaves pictures of the window instead. Leaves
# everything in build/.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
source demo/setup.sh

shop=build/demo/heronsgate.shop

install_packages
configure build/release Release
build build/release witnessmark

rm -rf build/demo
mkdir -p build/demo

# plays, shows, verifies and hands over
play() { # NAME SHOP BUILD
  local pdf=build/demo/$3.pdf
  build/release/witnessmark drive --shop "$2" --practice < "demo/$1.jsonl" > "build/demo/$1.answers.jsonl"
  echo
  python3 demo/show.py "demo/$1.jsonl" "build/demo/$1.answers.jsonl"
  echo
  echo "witnessmark verify $2"
  build/release/witnessmark verify "$2"
  echo
  echo "witnessmark handover --shop $2 --build $3 --person maud --out $pdf"
  build/release/witnessmark handover --shop "$2" --build "$3" --person maud --out "$pdf" <<< "nine blue herons"
  build/release/witnessmark verify "$pdf"
}

play teardown build/demo/teardown.shop teasel
order=build/demo/teasel-m1.pdf
echo
echo "witnessmark order --shop build/demo/teardown.shop --build teasel --order m1 --out $order"
build/release/witnessmark order --shop build/demo/teardown.shop --build teasel --order m1 --out "$order"

play marigold "$shop" marigold

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
for screen in strip-down findings parts sizes; do
  picture build/demo/teardown.shop "$screen" "build/demo/$screen.png"
done
picture "$shop" work build/demo/work.png --calc oil-clearance
