// npm start: builds everything, puts the demo bag through the command line, and says how to see it on the page.
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { allParts, buildParts } from './build.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));
const demo = 'demos/harbour-tote.bag.json';
const out = 'out';

try {
  await buildParts(allParts);
} catch (error) {
  console.error(error instanceof Error ? error.message : error);
  process.exit(1);
}
// A mesh of 20 mm, some 600 points: the first verdict in seconds, where the usual 2000 points follow a heap for a minute and more.
const ask = ['settle', demo, '--mesh', '20', '--out', out];
console.log(`\nslumpline ${ask.join(' ')}\n`);
const settle = spawnSync(process.execPath, ['dist/cli/slumpline.js', ...ask], { cwd: root, stdio: ['ignore', 'inherit', 'inherit'] });
if (settle.error) console.error(settle.error.message);
if (settle.status === 0) console.log(`\nThe picture, the figures and the settled mesh are in ${out}/.`);
console.log('\nTo see it fall on the page: npm run page');
process.exit(settle.status ?? 1);
