# Shared by ./run and ./test: sets a fresh Debian 12 machine up and builds. Sourced, with $root set; bash.
# shellcheck shell=bash disable=SC2154
# Everything here says its progress on standard error, so that the output of the program stays clean.

# Installs the packages of packages.txt that the named jobs need and that are missing; does nothing, fast, when none is.
need_packages() {
  local jobs=" $* " wanted=() missing=() name job
  while read -r name job _; do
    [[ -z $name || $name == \#* ]] && continue
    [[ $name == nodejs ]] && command -v node >/dev/null && continue
    [[ $name == npm ]] && command -v npm >/dev/null && continue
    [[ $jobs == *" $job "* ]] && wanted+=("$name")
  done <"$root/packages.txt"

  if ! command -v dpkg-query >/dev/null; then
    echo "This is no Debian system: please install what packages.txt lists yourself." >&2
    return
  fi
  local installed
  installed=$(dpkg-query -W -f='${Package} ${db:Status-Status}\n' "${wanted[@]}" 2>/dev/null | sed -n 's/ installed$//p') || true
  for name in "${wanted[@]}"; do
    grep -qxF "$name" <<<"$installed" || missing+=("$name")
  done
  ((${#missing[@]})) || return 0

  echo "Installing ${missing[*]}" >&2
  local as_root=()
  if ((EUID != 0)); then
    if ! command -v sudo >/dev/null; then
      echo "These packages are missing and there is no sudo: run this once as root." >&2
      exit 1
    fi
    as_root=(sudo)
  fi
  "${as_root[@]}" apt-get update -q >&2
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends "${missing[@]}" >&2
}

# build PRESET TARGET...: configures build/PRESET when that was never done or the presets changed (ninja itself notices
# every other change), then builds the targets ("all": everything).
build() {
  local preset=$1
  shift
  local configured=$root/build/$preset/configured
  if [[ ! -f $configured || $root/CMakePresets.json -nt $configured ]]; then
    (cd "$root" && cmake --preset "$preset") >&2
    touch "$configured"
  fi
  (cd "$root" && cmake --build --preset "$preset" --parallel "$(nproc)" --target "$@") >&2
}

# build_page: the page, web/dist, with the engine that the preset "browser" has built. What it is built with comes from
# the npm registry, as web/package-lock.json says, and only when that changed.
build_page() {
  local lock=$root/web/package-lock.json installed=$root/web/node_modules/.installed
  (
    cd "$root/web"
    if [[ ! -f $installed || $lock -nt $installed ]]; then
      npm ci --no-audit --no-fund --ignore-scripts
      touch "$installed"
    fi
    npx --no-install vite build
  ) >&2
}
