// node demos/programs/check-folder.mjs [FOLDER]: which of a folder's bags hold their shape? A shop's own check: ends with 1 where one of them slumps.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { BagError, preview } from 'slumpline';

const folder = process.argv[2] ?? 'demos';
/** Coarse, and the middle of the band alone: a first look, seconds a bag. */
const look = { edgeLength: 0.05, bands: ['mid'], skipNudge: true };
let slumped = 0;

for (const name of readdirSync(folder).filter((file) => file.endsWith('.bag.json'))) {
  try {
    const { verdict, option, massKg } = await preview(readFileSync(join(folder, name), 'utf8'), look);
    if (verdict.word === 'slumps') slumped++;
    console.log(`${name}: ${verdict.word} in ${option}, ${Math.round(1000 * massKg)} g`);
  } catch (error) {
    if (!(error instanceof BagError)) throw error;
    for (const { path, got, expected } of error.faults) console.error(`${name}: ${path}: got ${got}; expected ${expected}`);
    slumped++;
  }
}
process.exitCode = slumped > 0 ? 1 : 0;
