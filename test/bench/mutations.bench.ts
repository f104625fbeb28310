// Mutated bag files: npm run bench:mutations [COUNT] [FIRST SEED] (20 000 from seed 1 by default; about two minutes).
// Bars: reading, drafting and checking throw nothing but a BagError, and no figure of a draft or a finding is anything but a finite number. Slowest file and counts are printed.
import { BagError, type Draft, draftPanels, type Finding, parseBag } from '../../src/index.ts';
import { checkPattern } from '../../src/panels/check.ts';
import { mutant } from '../panels/mutate.ts';

const [count = '20000', first = '1'] = process.argv.slice(2);
/** Paths of figures that are not finite numbers. */
function notFinite(value: unknown, path: string, out: string[]): string[] {
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) out.push(`${path} = ${value}`);
  } else if (Array.isArray(value)) for (const [i, v] of value.entries()) notFinite(v, `${path}[${i}]`, out);
  else if (value !== null && typeof value === 'object') for (const [k, v] of Object.entries(value)) notFinite(v, `${path}.${k}`, out);
  return out;
}

const figuresOf = (draft: Draft, findings: readonly Finding[]): string[] => [
  ...notFinite(
    draft.panels.map((p) => ({ area: p.area, perimeter: p.perimeter, bounds: p.bounds, corners: p.cornerAngle, lengths: p.edges.map((e) => e.length) })),
    'panels',
    [],
  ),
  ...notFinite(draft.seams, 'seams', []),
  ...notFinite(draft.lines, 'lines', []),
  ...findings.flatMap((f) => (Number.isFinite(f.value) && !/NaN|Infinity|undefined/.test(`${f.figure} ${f.text}`) ? [] : [`${f.kind}: ${f.value}, ${f.text}`])),
];

let [unread, refused, passed] = [0, 0, 0];
const crashes: string[] = [];
const strange: string[] = [];
const kinds = new Map<string, number>();
let slowest = { ms: 0, seed: 0 };
let total = 0;
const begun = performance.now();
for (let seed = Number(first); seed < Number(first) + Number(count); seed++) {
  const text = JSON.stringify(mutant(seed));
  const from = performance.now();
  try {
    const bag = parseBag(text);
    const draft = draftPanels(bag);
    const { faults, warnings, notes } = checkPattern(bag, draft);
    for (const kind of new Set(faults.map((f) => f.kind))) kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
    const wrong = figuresOf(draft, [...faults, ...warnings, ...notes]);
    if (wrong.length > 0) strange.push(`seed ${seed}: ${wrong.slice(0, 3).join('; ')}`);
    if (faults.length > 0) refused++;
    else passed++;
  } catch (error) {
    if (error instanceof BagError) unread++;
    else crashes.push(`seed ${seed}: ${error instanceof Error ? (error.stack ?? '').split('\n').slice(0, 3).join(' | ') : String(error)}`);
  }
  const ms = performance.now() - from;
  total += ms;
  if (ms > slowest.ms) slowest = { ms, seed };
}
for (const line of [...crashes.slice(0, 20), ...strange.slice(0, 20)]) console.log(line);
console.log(`\n| files | refused by the reader | refused by the pattern check | passed | crashes | figures not finite |\n|---|---|---|---|---|---|`);
console.log(`| ${count} | ${unread} | ${refused} | ${passed} | ${crashes.length} | ${strange.length} |`);
console.log(
  `\nfaults of the pattern, by files that have them: ${[...kinds]
    .sort((a, b) => b[1] - a[1])
    .map(([k, n]) => `${k} ${n}`)
    .join(', ')}`,
);
console.log(
  `mean ${(total / Number(count)).toFixed(2)} ms a file, slowest ${slowest.ms.toFixed(0)} ms (seed ${slowest.seed}); ${((performance.now() - begun) / 1000).toFixed(0)} s in all`,
);
if (crashes.length + strange.length > 0) process.exitCode = 1;
