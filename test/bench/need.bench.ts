/**
 * npm run bench:need [-- BAG [MESH mm]]: what it takes to find out what a bag needs. Default: the five-panel harbour tote at 15.8 mm, 1015 points; its bar is 30 s on two cores.
 * CPU seconds of each settle and in all.
 */
import { readFileSync } from 'node:fs';
import { findNeed, needText, parseBag } from '../../src/index.ts';

const [name = 'harbour-tote', mesh = '15.8'] = process.argv.slice(2);
const bag = parseBag(readFileSync(`demos/${name}.bag.json`, 'utf8'));
const cpu = (): number => process.cpuUsage().user / 1e6 + process.cpuUsage().system / 1e6;

const [from, wall] = [cpu(), performance.now()];
let run = '',
  begun = from;
const end = (): void => {
  if (run !== '') console.log(`  ${(cpu() - begun).toFixed(2).padStart(6)} s  ${run}`);
};
const report = findNeed(bag, {
  edgeLength: Number(mesh) / 1000,
  onProgress: (at) => {
    const now = `${at.band} ${at.run}`;
    if (now === run) return;
    end();
    [run, begun] = [now, cpu()];
  },
});
end();
console.log(needText(report));
console.log(
  `${report.runs} settles at ${report.vertices} points: ${(cpu() - from).toFixed(1)} s of CPU, ${((performance.now() - wall) / 1000).toFixed(1)} s by the clock`,
);
