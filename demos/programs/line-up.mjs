// node demos/programs/line-up.mjs [FILE] [EDGE]: every option of a bag in every stance, over all cores, and a table of the words. Ctrl-C stops at once.
import { readFileSync } from 'node:fs';
import { parseBag } from 'slumpline';
import { startWorkers } from 'slumpline/worker';

const bag = parseBag(readFileSync(process.argv[2] ?? 'demos/harbour-tote.bag.json', 'utf8'));
const edgeLength = Number(process.argv[3] ?? 30) / 1000;
const workers = startWorkers();
const stop = new AbortController();
process.once('SIGINT', () => stop.abort(new Error('stopped')));

const runs = bag.options.flatMap((option) => bag.stances.map((stance) => ({ option: option.name, stance: stance.name })));
// All at once: the workers take them in turn, and each end of a material's band by itself.
const results = await Promise.all(runs.map((run) => workers.preview(bag, { ...run, edgeLength, signal: stop.signal })));
for (const [i, { verdict }] of results.entries()) console.log(`${runs[i].option} | ${runs[i].stance} | ${verdict.word} | margin ${verdict.margin.toFixed(2)}`);
workers.end();
