#!/usr/bin/env bash
# One study as a Slurm job array: each task runs one slice of the plan in a folder of its own, OUT/slice-K.
#   sbatch --array=1-16 scripts/cluster/slurm_array.sh BRIEF OUT [options of `trammel search`, such as --units 4096]
# Submitted again with the same arguments it goes on where tasks were stopped. The program is TRAMMEL, or `trammel` on the
# PATH. It uses the processors that Slurm grants a task (--cpus-per-task).
#SBATCH --job-name=trammel
#SBATCH --array=1-4
#SBATCH --cpus-per-task=1
# A minute before the time limit the units in hand are finished, and the slice can go on later.
#SBATCH --signal=B:TERM@60
set -euo pipefail

if (($# < 2)); then
  echo "usage: sbatch --array=1-N slurm_array.sh BRIEF OUT [options of trammel search]" >&2
  exit 2
fi
if [[ ${SLURM_ARRAY_TASK_MIN:-} != 1 || ${SLURM_ARRAY_TASK_STEP:-1} != 1 ]]; then
  echo "submit the whole array from 1 on: sbatch --array=1-N" >&2
  exit 2
fi
brief=$1 out=$2
shift 2
slice=$SLURM_ARRAY_TASK_ID slices=$SLURM_ARRAY_TASK_MAX
folder=$out/slice-$slice
trammel=${TRAMMEL:-trammel}

# `exec`, so that Slurm's signal reaches the program.
if [[ -e $folder/trammel.study ]]; then
  exec "$trammel" resume "$folder" "$brief"
fi
mkdir -p -- "$out"
exec "$trammel" search "$brief" --slice "$slice/$slices" --out "$folder" "$@"
