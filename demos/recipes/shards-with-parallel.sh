#!/usr/bin/env bash
# A sweep in shards by GNU parallel (Debian: apt-get install parallel), on this machine or, with --sshlogin, on several that share the folder.
#   BAG=my.bag.json VARY="W=260..340/5,option=*" OUT=out SHARDS=8 ./shards-with-parallel.sh
# Started again after whatever stopped it, it goes on: each shard settles what it has not written yet.
set -euo pipefail
: "${BAG:?the bag file}" "${VARY:?what is varied}" "${OUT:?the folder for the runs}"
SHARDS=${SHARDS:-4}
SLUMPLINE=${SLUMPLINE:-npx slumpline}
MORE=${MORE:-}
export BAG VARY OUT SHARDS SLUMPLINE MORE

# One thread a shard: parallel itself keeps every core busy (one job for each). A shard that fails is tried twice more.
parallel --halt soon,fail=100% --retries 3 --joblog "$OUT.joblog" \
  '$SLUMPLINE sweep "$BAG" --vary "$VARY" --out "$OUT" --shard {}/"$SHARDS" --jobs 1 --quiet $MORE > /dev/null' ::: $(seq 1 "$SHARDS")
$SLUMPLINE merge "$OUT"
