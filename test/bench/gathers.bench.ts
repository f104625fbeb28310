// Gathered tote over meshes, softest and stiffest option: npm run bench:gathers [BAND[,BAND]] [MM[,MM]]. Bars: 0 crossings, a verdict (rest under 1e-4).
import { type Bag, type Band, newBag, parseBag, previewBag } from '../../src/index.ts';

const [bands = 'low,mid,high', meshes = '25,20,16'] = process.argv.slice(2);
const bag: Bag = parseBag(newBag('gathered-tote'));
let restless = 0;
console.log('| option | band | mesh mm | vertices | verdict | status | residual | height kept | folds | crossings | seconds |');
console.log(`|${'---|'.repeat(11)}`);
for (const option of [bag.options[0], bag.options[bag.options.length - 1]])
  for (const band of bands.split(',') as Band[])
    for (const mm of meshes.split(',').map(Number)) {
      const begun = performance.now();
      const { vertices, runs, verdict } = previewBag(bag, { option: option.name, bands: [band], edgeLength: mm / 1000, now: () => performance.now() });
      const [run] = runs;
      const { folds, heightKept } = run.measures;
      if (run.status !== 'settled' && verdict.word === 'no verdict') restless++;
      console.log(
        `| ${option.name} | ${band} | ${mm} | ${vertices} | ${verdict.word} | ${run.status} | ${run.residual.toExponential(1)} | ${heightKept?.toFixed(3) ?? '-'} | ${folds} | ${run.contact.crossings} | ${((performance.now() - begun) / 1000).toFixed(1)} |`,
      );
    }
console.log(`\n${restless} without a verdict`);
if (restless > 0) process.exitCode = 1;
