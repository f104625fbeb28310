#!/usr/bin/env bash
# A sweep in shards as a Slurm job array, one task a shard, in a folder that all nodes share:
#   BAG=my.bag.json VARY="W=260..340/5,option=*" OUT=/shared/out sbatch --array=1-8 slurm-array.sh
# then, when all tasks are done:  slumpline merge /shared/out
# A task that was cancelled, preempted or ran out of time goes on where it stopped: the same sbatch again, or only its numbers, with how many there are in all
# (SHARDS=8 ... sbatch --array=3,5 slurm-array.sh).
#SBATCH --job-name=slumpline
#SBATCH --cpus-per-task=1
#SBATCH --mem=1G
#SBATCH --time=12:00:00
#SBATCH --requeue
#SBATCH --open-mode=append
set -euo pipefail
: "${BAG:?the bag file}" "${VARY:?what is varied}" "${OUT:?the folder for the runs}"
if [ -z "${SHARDS:-}" ] && [ "${SLURM_ARRAY_TASK_COUNT:-${SLURM_ARRAY_TASK_MAX:-}}" != "${SLURM_ARRAY_TASK_MAX:-}" ]; then
  echo "these are only some of the shards: say how many there are in all, SHARDS=8 for --array=1-8" >&2
  exit 2
fi
SHARDS=${SHARDS:-${SLURM_ARRAY_TASK_MAX:?start this with sbatch --array=1-N}}
${SLUMPLINE:-npx slumpline} sweep "$BAG" --vary "$VARY" --out "$OUT" --shard "$SLURM_ARRAY_TASK_ID/$SHARDS" --jobs "${SLURM_CPUS_PER_TASK:-1}" --quiet ${MORE:-}
