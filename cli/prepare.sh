# Sourced by cli/demo and tests/run: finds the checkout, installs what is missing, builds release.

root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)

say() { printf '== %s\n' "$*"; }

# Package and the command or file that shows it is there.
packages=(
  g++ cmake ninja-build
  libyaml-cpp-dev libeigen3-dev libboost-dev libtbb-dev libexpected-dev libcli11-dev libssl-dev rapidjson-dev
)
test_packages=(libgtest-dev libnlopt-cxx-dev libudunits2-dev nlohmann-json3-dev libvalijson-dev libxml2-dev
  libdxflib-dev libopenmpi-dev openmpi-bin)

install_missing() {
  if ! command -v dpkg-query >/dev/null || ! command -v apt-get >/dev/null; then
    say "This is not Debian or Ubuntu. Please have these installed (Debian's names): $*"
    return 0
  fi
  local missing=() package
  for package in "$@"; do
    dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q 'ok installed' || missing+=("$package")
  done
  if [ ${#missing[@]} -eq 0 ]; then
    say "All needed packages are installed."
    return 0
  fi
  say "Installing: ${missing[*]}"
  local as_root=()
  if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null; then
      say "Not root, and there is no sudo. As root, run: apt-get install ${missing[*]}"
      exit 1
    fi
    as_root=(sudo)
  fi
  "${as_root[@]}" apt-get update -qq
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends \
    "${missing[@]}" >/dev/null
}

# build_release [cmake options]: configures quietly, shows what went wrong if something did.
build_release() {
  say "Building (the first time takes a few minutes) ..."
  local log
  log=$(mktemp)
  if ! (cd "$root" && cmake --preset release "$@" && cmake --build --preset release) >"$log" 2>&1; then
    cat "$log"
    rm -f "$log"
    say "The build failed; what it printed stands above."
    exit 1
  fi
  rm -f "$log"
}
