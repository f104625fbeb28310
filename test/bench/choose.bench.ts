/**
 * npm run bench:choose [-- CRITERION [HOW MANY [WHICH]]] [brute]: what a choice from a shelf takes. The shelf of twelve materials on the commuter tote; with "brute" three small shelves
 * (or the one of them that is named, 1 to 3) instead, of which every stack is settled as well, and the winners compared.
 */
import { readFileSync } from 'node:fs';
import { CRITERIA, choose, parseBag, parseShelf, previewSync } from '../../src/index.ts';
import { prepareShelf } from '../../src/run/index.ts';
import { SMALL, TWELVE } from './shelves.ts';

const bag = parseBag(readFileSync('demos/commuter-tote.bag.json', 'utf8'));
const asked = { stance: 'empty', wanted: 'structured' } as const;
const cpu = (): number => process.cpuUsage().user / 1e6 + process.cpuUsage().system / 1e6;

async function one(shelf: unknown, o: object): Promise<readonly string[]> {
  const from = cpu(),
    read = parseShelf(shelf);
  await prepareShelf(bag, read, { ...asked, ...o });
  const ready = cpu() - from;
  console.log(`ready after ${ready.toFixed(1)} s of CPU`);
  const onSettled = ({ word, margin }: { word: string; margin: number | null }): void =>
    console.log(`  ${word} ${margin?.toFixed(2)} at ${(cpu() - from).toFixed(1)} s`);
  const r = await choose(bag, read, { ...asked, ...o, onSettled });
  console.log(
    `${r.shelf}, by ${r.by}: ${r.stacks} stacks, ${r.settled.length} settled, ruled out ${r.ruledOut.softer} softer, ${r.ruledOut.stiffer} stiffer, ${r.ruledOut.behind} behind; ` +
      `${ready.toFixed(1)} s CPU to make ready, ${(cpu() - from - ready).toFixed(1)} s in all`,
  );
  for (const s of r.settled)
    console.log(
      `  ${s.place}. ${s.name}: ${s.word} ${s.margin?.toFixed(2)} ${(1000 * s.weight).toFixed(0)} g ${s.cost?.toFixed(2)} ${s.whole ? JSON.stringify(s.whole.byBand) : ''}`,
    );
  return r.ranked.map((s) => s.name);
}

const [criterion, most = '3', which] = process.argv.slice(2).filter((w) => w !== 'brute'),
  by = CRITERIA.find((c) => c === criterion) ?? 'weight';
if (!process.argv.includes('brute')) await one(TWELVE, { by, most: Number(most) });

if (process.argv.includes('brute'))
  for (const shelf of which === undefined ? SMALL : [SMALL[Number(which) - 1]!]) {
    const ranked = await one(shelf, { by, most: 3 });
    const { all, edgeLength } = await prepareShelf(bag, parseShelf(shelf), { ...asked, by, most: 3 });
    const from = cpu();
    const meets = all.filter(({ bag: made }) => {
      const { verdict } = previewSync({ ...made, wanted: asked.wanted }, { stance: asked.stance, bands: ['mid'], edgeLength, askAgain: false, corners: false });
      return verdict.fit === 'meets';
    });
    const best = meets.slice(0, 3).map((m) => m.stack.name);
    console.log(
      `  every one settled: ${all.length}, ${(cpu() - from).toFixed(1)} s CPU; ${JSON.stringify(best) === JSON.stringify(ranked) ? 'the same best' : `OTHER BEST: ${best.join(' | ')}`}`,
    );
  }
