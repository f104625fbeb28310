/** What is settled for the sums of test/same-bytes/sums.json: every demo in every stance, and every template, on coarse meshes. Runs in node and in a page. */
import { type Bag, type Band, parseBag, previewSync, templates } from '../../src/index.ts';

const DEMOS = import.meta.glob<string>('../../demos/*.bag.json', { query: '?raw', import: 'default', eager: true });
/** Edge lengths, m: coarse, so that all of it takes a minute or two. */
const EDGE = 0.03,
  COARSER = 0.04;
/** Templates whose soft end falls to a heap for longer than the others' whole band: their middle alone. */
const SLOW: ReadonlySet<string> = new Set(['flat-tote', 'backpack', 'barrel-duffel', 'gathered-tote']);

export interface SumRun {
  readonly name: string;
  readonly bag: Bag;
  readonly option: string;
  readonly stance: string;
  readonly edgeLength: number;
  readonly bands: readonly Band[];
}

/** All runs, in a fixed order. */
export function sumRuns(): SumRun[] {
  const demos = Object.entries(DEMOS)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .flatMap(([path, text]) => {
      const bag = parseBag(text);
      const file = path.replace(/.*\//, '').replace('.bag.json', '');
      const clamped = bag.panels.length === 1;
      return bag.stances.flatMap(({ name: stance }) =>
        bag.options.slice(0, clamped ? 1 : 2).map(({ name: option }) => run(file, bag, option, stance, clamped ? 0.01 : COARSER, ['mid'])),
      );
    });
  const made = templates().flatMap((t) => {
    const bag = parseBag(t.text);
    const { name: stance } = bag.stances[0]!;
    return bag.options.slice(0, 2).map(({ name: option }) => run(t.name, bag, option, stance, EDGE, SLOW.has(t.name) ? ['mid'] : ['low', 'mid', 'high']));
  });
  return [...demos, ...made];
}

const run = (file: string, bag: Bag, option: string, stance: string, edgeLength: number, bands: readonly Band[]): SumRun => ({
  name: [file, option, stance, `${edgeLength * 1000} mm`].join(' | '),
  bag,
  option,
  stance,
  edgeLength,
  bands,
});

/** By band: SHA-256 of the settled positions' bytes, or the fault where the bag is refused. */
export async function sumsOf(r: SumRun): Promise<Record<string, string>> {
  try {
    const { runs } = previewSync(r.bag, { option: r.option, stance: r.stance, edgeLength: r.edgeLength, bands: r.bands, skipNudge: true });
    return Object.fromEntries(await Promise.all(runs.map(async (b) => [b.band, await digest(b.positions)] as const)));
  } catch (error) {
    return { refused: (error as Error).message };
  }
}

/** By node's and the browsers' own SHA-256: what is measured does not measure itself. */
async function digest(x: Float64Array): Promise<string> {
  const sum = await crypto.subtle.digest('SHA-256', x.slice());
  return [...new Uint8Array(sum)].map((b) => b.toString(16).padStart(2, '0')).join('');
}

/** The sums of the runs with these names, `name | band` to sum. */
export async function sumsNamed(names: readonly string[]): Promise<Record<string, string>> {
  const out: Record<string, string> = {};
  for (const r of sumRuns()) if (names.includes(r.name)) for (const [band, sum] of Object.entries(await sumsOf(r))) out[`${r.name} | ${band}`] = sum;
  return out;
}
