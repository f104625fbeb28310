# A sweep in shards by make: "make -f shards.mk -j 4 BAG=my.bag.json VARY='W=260..340/5,option=*' OUT=out SHARDS=8".
# make -k goes on with the others when one fails; started again, each shard settles what it has not written yet.
SHARDS ?= 4
SLUMPLINE ?= npx slumpline
MORE ?=
NUMBERS := $(shell seq 1 $(SHARDS))

$(OUT)/table.csv: $(NUMBERS:%=$(OUT)/shard-%-of-$(SHARDS).done)
	$(SLUMPLINE) merge $(OUT)

$(OUT)/shard-%-of-$(SHARDS).done: $(BAG)
	$(SLUMPLINE) sweep $(BAG) --vary '$(VARY)' --out $(OUT) --shard $*/$(SHARDS) --jobs 1 --quiet $(MORE) > /dev/null
	touch $@
