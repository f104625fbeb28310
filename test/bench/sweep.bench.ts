// npm run bench:sweep [RUNS] [SEED of the kills] [OPTION]: a sweep of the harbour tote at 700 points (500 runs) by the built program: in one go; killed by SIGKILL at five random moments and begun
// again each time; in 8 shards, merged. Runs a minute, what a run costs, and whether the tables are the same to the byte. Needs dist/cli (npm run build).
// A clock on a shared machine says little: CPU seconds stand beside it.
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { seeded } from '../../src/numerics/index.ts';

const root = process.cwd();
const program = join(root, 'dist/cli/slumpline.js');
const bag = join(root, 'demos/harbour-tote.bag.json');
const runs = Number(process.argv[2] ?? 500);
const seed = Number(process.argv[3] ?? 31);
const option = process.argv[4] ?? 'vegetable-tanned leather';
const cloth = option.includes('leather') ? 'veg20' : 'canvas10';
const KILLS = 5;
const SHARDS = 8;
const VARY = `W=260..340,H=220..300,friction=0.3..0.5,material.${cloth}.band=low..high,option="${option}"`;
const folder = mkdtempSync(join(tmpdir(), 'slumpline-bench-sweep-'));
const chance = seeded(seed);

const asked = (out: string, ...more: string[]) => [
  'sweep',
  bag,
  '--vary',
  VARY,
  '--samples',
  String(runs),
  '--seed',
  '31',
  '--mesh',
  '19',
  '--out',
  out,
  ...more,
];

const filesOf = (out: string) => readdirSync(join(folder, out)).filter((name) => name.endsWith('.jsonl'));
const textOf = (out: string): string =>
  existsSync(join(folder, out))
    ? filesOf(out)
        .map((name) => readFileSync(join(folder, out, name), 'utf8'))
        .join('')
    : '';
const linesIn = (out: string): number => textOf(out).split('\n').length - 1;

interface Ended {
  readonly code: number | null;
  readonly signal: string | null;
  readonly err: string;
}

/** Starts the program; where `kill` is told, ends it by SIGKILL some moments after so many runs are written. */
function started(argv: readonly string[], kill?: { readonly out: string; readonly at: number; readonly after: number }): Promise<Ended> {
  const child = spawn(process.execPath, [program, ...argv], { cwd: folder, stdio: ['ignore', 'ignore', 'pipe'] });
  let err = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    err += text;
  });
  let due = false;
  const look = setInterval(() => {
    if (due || kill === undefined || linesIn(kill.out) < kill.at) return;
    due = true;
    setTimeout(() => child.kill('SIGKILL'), kill.after);
  }, 50);
  return new Promise((done) =>
    child.on('close', (code, signal) => {
      clearInterval(look);
      done({ code, signal, err });
    }),
  );
}

/** One hash of everything that is made of the runs: tables and plots. */
function digest(out: string): string {
  const hash = createHash('sha256');
  for (const name of readdirSync(join(folder, out))
    .filter((n) => /\.(svg|csv)$|^table/.test(n))
    .sort())
    hash.update(name).update(readFileSync(join(folder, out, name)));
  return hash.digest('hex').slice(0, 16);
}

const costOf = (err: string): string => /\d+ runs in .* each/.exec(err)?.[0] ?? 'no cost told';
const must = (ended: Ended): Ended => {
  if (ended.code !== 0 && ended.code !== 3) throw new Error(`ended with ${ended.code ?? ended.signal}\n${ended.err}`);
  return ended;
};

try {
  console.log(
    `${runs} runs of the harbour tote, ${option}, mesh 19 mm (about 700 points): ${VARY}; load ${loadavg()
      .map((l) => l.toFixed(1))
      .join(' ')}`,
  );
  const whole = must(await started(asked('whole')));
  console.log(`in one go: ${costOf(whole.err)}; tables ${digest('whole')}`);

  const at = Array.from({ length: KILLS }, () => 1 + Math.floor((runs - 2) * chance())).sort((a, b) => a - b);
  for (const n of at) {
    const killed = await started(asked('killed', '--quiet'), { out: 'killed', at: Math.max(n, linesIn('killed') + 1), after: Math.floor(1500 * chance()) });
    const kept = linesIn('killed'),
      torn = !textOf('killed').endsWith('\n');
    console.log(`  ended by ${killed.signal ?? `itself (${killed.code})`} with ${kept} of ${runs} runs written${torn ? ', the last line cut short' : ''}`);
  }
  must(await started(asked('killed', '--quiet')));
  const written = textOf('killed')
    .trim()
    .split('\n')
    .map((line) => (JSON.parse(line) as { run: number }).run);
  const twice = written.length - new Set(written).size;
  console.log(
    `killed ${KILLS} times: tables ${digest('killed')}, ${digest('killed') === digest('whole') ? 'the same to the byte' : 'NOT the same'}; runs written twice: ${twice}`,
  );

  for (let i = 1; i <= SHARDS; i++) must(await started(asked(`shard-${i}`, '--quiet', '--shard', `${i}/${SHARDS}`)));
  must(await started(['merge', ...Array.from({ length: SHARDS }, (_, i) => `shard-${i + 1}`), '--out', 'merged']));
  console.log(`${SHARDS} shards merged: tables ${digest('merged')}, ${digest('merged') === digest('whole') ? 'the same to the byte' : 'NOT the same'}`);
} finally {
  rmSync(folder, { recursive: true, force: true });
}
