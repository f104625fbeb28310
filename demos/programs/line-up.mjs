// Every option of a bag beside the others, in a script of your own:  node line-up.mjs my.bag.json
// One thread; the program stays alive beside the work. Faults of the file come all at once.
import { readFile } from 'node:fs/promises';
import { BagError, parseBag, preview } from 'slumpline';

const [file, edge = '0.02'] = process.argv.slice(2);
try {
  const bag = parseBag(await readFile(file, 'utf8'));
  for (const { name } of bag.options) {
    const { verdict, massKg } = await preview(bag, { option: name, edgeLength: Number(edge) });
    console.log(`${name}: ${verdict.word}, ${Math.round(1000 * massKg)} g. ${verdict.reason}`);
  }
} catch (error) {
  if (!(error instanceof BagError)) throw error;
  for (const { path, got, expected } of error.faults) console.error(`${path}: got ${got}; expected ${expected}`);
  process.exitCode = 2;
}
