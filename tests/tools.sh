# What tests/run and the scripts beside it do alike: say, fail, and get what the tests need. Read in by them, from the top of the
# repository.

say() { printf '\n== %s\n' "$*"; }
fail() { printf '%s: %s\n' "$0" "$*" >&2; exit 1; }

# Whether a tool is there: a command, a dictionary of Hunspell (`dictionary=en_GB`) or a file (`file=/usr/lib/...`).
is_there() {
  case "$1" in
    dictionary=*) hunspell -d "${1#*=}" -l </dev/null >/dev/null 2>&1 ;;
    file=*) [ -e "${1#*=}" ] ;;
    *) command -v "$1" >/dev/null ;;
  esac
}

# Packages that are missing, each once.
missing() {
  local tool
  for tool in "$@"; do
    is_there "${tool%%:*}" || echo "${tool##*:}"
  done
  # On Debian the module venv is there without what it needs; ensurepip tells.
  if command -v python3 >/dev/null && ! python3 -c 'import venv, ensurepip' 2>/dev/null; then
    echo python3-venv
  fi
}

# Installs tools, each as command:package (Debian's names), or says how to.
install_tools() {
  say "tools"
  command -v cargo >/dev/null || fail "cargo is missing: install Rust from https://rustup.rs"
  local wanted
  mapfile -t wanted < <(missing "$@" | sort -u)
  if [ "${#wanted[@]}" -gt 0 ]; then
    if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null; then
      apt-get update -qq
      DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${wanted[@]}" python3-venv
    else
      local all=("$@")
      fail "these are missing: ${wanted[*]}
On Debian or Ubuntu: sudo apt-get install ${wanted[*]} python3-venv
Elsewhere: install the programs ${all[*]%%:*} from your system's packages."
    fi
    mapfile -t wanted < <(missing "$@" | sort -u)
    [ "${#wanted[@]}" = 0 ] || fail "still missing after the installation: ${wanted[*]}"
  fi
}

# What is fetched is kept below target/, so that whoever keeps that folder fetches nothing twice.
export PIP_CACHE_DIR="$PWD/target/downloads/pip" npm_config_cache="$PWD/target/downloads/npm"
export SHEAFWRIGHT_CORPUS="$PWD/target/downloads/corpus"

# A venv of our own, made anew whenever the list of libraries or the interpreter changes.
python_libraries() {
  local venv="$PWD/target/venv" stamp
  stamp="$(python3 --version) $(sha256sum <tests/requirements.txt)"
  if [ "$(cat "$venv/stamp" 2>/dev/null)" != "$stamp" ]; then
    say "Python libraries"
    rm -rf "$venv"
    mkdir -p target
    python3 -m venv "$venv" || fail "python3 -m venv failed; on Debian: sudo apt-get install python3-venv"
    "$venv/bin/python" -m pip install --quiet --disable-pip-version-check --requirement tests/requirements.txt
    echo "$stamp" >"$venv/stamp"
  fi
  export SHEAFWRIGHT_PYTHON="$venv/bin/python"
}

# What drives the browser, made anew whenever the list changes. The browser itself is the system's.
browser_libraries() {
  local browser="$PWD/target/browser"
  if ! cmp -s tests/browser/package.json "$browser/stamp"; then
    say "libraries of the browser"
    rm -rf "$browser"
    mkdir -p "$browser"
    cp tests/browser/package.json "$browser/package.json"
    npm install --prefix "$browser" --silent --no-audit --no-fund --ignore-scripts || fail "npm install failed in $browser"
    cp tests/browser/package.json "$browser/stamp"
  fi
  export SHEAFWRIGHT_BROWSER="$browser" SHEAFWRIGHT_CHROMIUM="${SHEAFWRIGHT_CHROMIUM:-$(command -v chromium)}"
}

# No test may rewrite what it is held against, and no program may speak another language than the tests read.
export INSTA_UPDATE=no LC_ALL=C.UTF-8
