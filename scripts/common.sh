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

# The tree is formatted and checked by one version of LLVM's tools, Debian 12's; another formats and warns otherwise.
llvm=14

# Prints the name under which the tool $1 is there in that version. Ends the script with 77 where it is not, which CTest
# reports as skipped.
llvm_tool() {
  local name
  for name in "$1-$llvm" "$1"; do
    if command -v "$name" >/dev/null && [[ $("$name" --version) == *version\ "$llvm".* ]]; then
      printf '%s\n' "$name"
      return
    fi
  done
  say "skipped: needs $1 in version $llvm, which Debian 12 has"
  exit 77
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
