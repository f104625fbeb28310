// node .ci/bench.mjs [NAME] [arguments]: builds test/bench/NAME.bench.ts (all of them without a name) and runs it.
// Not part of the tests: a clock on a shared machine proves nothing, it only informs.
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';

const root = fileURLToPath(new URL('..', import.meta.url));
const folder = join(root, 'test/bench');
const known = existsSync(folder)
  ? readdirSync(folder)
      .filter((name) => name.endsWith('.bench.ts'))
      .map((name) => name.slice(0, -'.bench.ts'.length))
      .sort()
  : [];
const [name, ...rest] = process.argv.slice(2);
if (name !== undefined && !known.includes(name)) {
  console.error(`unknown benchmark "${name}": expected ${known.join(', ') || 'one in test/bench, where there is none'}`);
  process.exit(2);
}
let failed = 0;
for (const bench of name === undefined ? known : [name]) {
  await build({ configFile: join(root, 'vite.config.ts'), mode: 'bench', logLevel: 'warn', build: { ssr: join(folder, `${bench}.bench.ts`) } });
  console.log(`\n== ${bench}`);
  // A process each: what one leaves compiled or collected must not colour the next.
  const done = spawnSync(process.execPath, [join(root, 'dist/bench', `${bench}.bench.js`), ...rest], { cwd: root, stdio: 'inherit' });
  if (done.status !== 0) failed++;
}
if (failed > 0) {
  console.error(`${failed} of the benchmarks ended with an error`);
  process.exit(1);
}
