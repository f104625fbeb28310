// Random bags that can be sewn: npm run bench:bags [FROM] [TO] (seeds, 500 of them by default).
// Bars: parse -> print -> parse identity, smallest angle >= 20 deg, 0 crossings in the sewn start by the exact test, mass to 1e-9 of what is cut.
import { type Sewn, sewSoundly } from '../bag/sewn-soundly.ts';

const [from = '1', to = '500'] = process.argv.slice(2);
const kinds = new Map<string, { count: number; failed: number; least: number; heaviest: number }>();
const failed: string[] = [];
const sharp: string[] = [];
const begun = performance.now();
for (let seed = Number(from); seed <= Number(to); seed++) {
  let bag: Sewn;
  try {
    bag = sewSoundly(seed);
  } catch (error) {
    bag = {
      kind: '?',
      vertices: 0,
      minAngle: Number.NaN,
      forced: null,
      crossings: 0,
      massError: Number.NaN,
      ways: '',
      failures: [`threw ${String(error).split('\n')[0]}`],
    };
  }
  const row = kinds.get(bag.kind) ?? { count: 0, failed: 0, least: 90, heaviest: 0 };
  row.count++;
  row.least = Math.min(row.least, bag.minAngle);
  row.heaviest = Math.max(row.heaviest, bag.massError);
  if (bag.failures.length > 0) {
    row.failed++;
    failed.push(`seed ${seed}, ${bag.kind}: ${bag.failures.join('; ')}`);
    console.log(failed[failed.length - 1]);
  }
  if (bag.forced !== null) sharp.push(`seed ${seed}, ${bag.kind}: a corner of ${bag.forced.toFixed(0)} deg, smallest angle ${bag.minAngle.toFixed(1)} deg`);
  kinds.set(bag.kind, row);
}
console.log('\n| kind | bags | failed | smallest angle deg | largest error of mass |\n|---|---|---|---|---|');
for (const [kind, row] of [...kinds].sort())
  console.log(`| ${kind} | ${row.count} | ${row.failed} | ${row.least.toFixed(1)} | ${row.heaviest.toExponential(1)} |`);
const count = [...kinds.values()].reduce((sum, row) => sum + row.count, 0);
console.log(`\n${sharp.length} bags with a corner under 40 deg sewn on both sides, which no mesh can give two angles of 20 deg:`);
for (const line of sharp) console.log(line);
console.log(`\n${count} bags, ${failed.length} failed, ${((performance.now() - begun) / 1000).toFixed(0)} s`);
if (failed.length > 0) process.exitCode = 1;
