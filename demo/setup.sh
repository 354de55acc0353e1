# shellcheck shell=bash
# What demo/run.sh and tests/run.sh share; they source it from the project's top folder.

# Installs those packages of demo/packages.txt that are not there yet: as root, or with sudo.
install_packages() {
  local package missing=() as_root=()
  while read -r package; do
    if ! dpkg-query --show --showformat='${db:Status-Status}\n' "$package" 2>/dev/null | grep -qx installed; then
      missing+=("$package")
    fi
  done < demo/packages.txt
  if ((${#missing[@]} == 0)); then
    return 0
  fi
  echo "Installing: ${missing[*]}"
  if ((EUID != 0)); then
    as_root=(sudo)
  fi
  as_root+=(env DEBIAN_FRONTEND=noninteractive apt-get --quiet --option DPkg::Lock::Timeout=120
    --option Acquire::Retries=3)
  "${as_root[@]}" update
  "${as_root[@]}" install --yes --no-install-recommends "${missing[@]}"
}

# configure FOLDER BUILD-TYPE [CMAKE-OPTION...]
configure() {
  cmake -S . -B "$1" -G Ninja -DCMAKE_CXX_COMPILER=g++ -DCMAKE_BUILD_TYPE="$2" "${@:3}"
}

# build FOLDER [TARGET...]: everything when no target is named
build() {
  cmake --build "$1" --parallel "$(nproc)" ${2:+--target "${@:2}"}
}
