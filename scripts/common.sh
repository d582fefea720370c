# shellcheck shell=bash
# Shared by the scripts of this folder; sourced, not run.

root=$(cd -- "$(dirname -- "${BASH_SOURCE[0]}")/.." && pwd)
# Read by the scripts that source this file.
# shellcheck disable=SC2034
build=$root/build
# shellcheck disable=SC2034
jobs=$(nproc)

say() { printf '%s\n' "== $*" >&2; }
fail() {
  printf '%s\n' "$(basename -- "$0"): $*" >&2
  exit 1
}

# True when the option $1 is among the other arguments; an argument that is not an option of the script ends it.
# Usage: wants --tests "$@"
wants() {
  local option=$1 argument found=1
  shift
  for argument; do
    [[ $argument == "$option" ]] || fail "unknown argument '$argument'; allowed: $option"
    found=0
  done
  return "$found"
}
