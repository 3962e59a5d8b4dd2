# Sourced: makes .venv with the project in it. $1: extras, such as "[test]". Needs Python 3.11 or newer.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

packages() {  # install Debian packages, as root or through sudo
  local root=""
  [ "$(id -u)" = 0 ] || root=sudo
  $root apt-get update -qq
  DEBIAN_FRONTEND=noninteractive $root apt-get install -y -qq --no-install-recommends "$@" >/dev/null
}

if ! [ -x .venv/bin/python ] || ! .venv/bin/python -c '' 2>/dev/null; then
  python3 -m venv .venv >/dev/null 2>&1 || { packages python3-venv && python3 -m venv --clear .venv; }
fi
.venv/bin/python -m pip install -q --disable-pip-version-check -c tests/constraints.txt -e ".${1:-}"
