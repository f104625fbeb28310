/** What is settled for the sums of test/same-bytes/sums.json: every demo in every stance, and every template, on coarse meshes. */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { type Bag, type Band, parseBag, previewSync, templates } from '../../src/index.ts';

const DEMOS = new URL('../../demos/', import.meta.url);
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
  const demos = readdirSync(DEMOS)
    .filter((file) => file.endsWith('.bag.json'))
    .sort()
    .flatMap((file) => {
      const bag = parseBag(readFileSync(new URL(file, DEMOS), 'utf8'));
      const clamped = bag.panels.length === 1;
      return bag.stances.flatMap(({ name: stance }) =>
        bag.options
          .slice(0, clamped ? 1 : 2)
          .map(({ name: option }) => run(file.replace('.bag.json', ''), bag, option, stance, clamped ? 0.01 : COARSER, ['mid'])),
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
export function sumsOf(r: SumRun): Record<string, string> {
  try {
    const { runs } = previewSync(r.bag, { option: r.option, stance: r.stance, edgeLength: r.edgeLength, bands: r.bands, skipNudge: true });
    return Object.fromEntries(runs.map((b) => [b.band, digest(b.positions)]));
  } catch (error) {
    return { refused: (error as Error).message };
  }
}

const digest = (x: Float64Array): string =>
  createHash('sha256')
    .update(new Uint8Array(x.buffer, x.byteOffset, x.byteLength))
    .digest('hex');
