// How much a verdict owes to its mesh and start: npm run bench:spread [FOLDER] [settle|table] (two hours of a core; stopped, it goes on where it was). Every template and
// demo tote, every option, first stance, middle of the band, on six meshes (about 400 .. 2000 points) from four seeds of the start's waviness. What on the first mesh loses more
// than a fifth of its height, or misses its limit by more than three times what that allows, is settled on two meshes from two seeds alone. Nudges on the two coarsest meshes.
// FOLDER (artifacts/spread) gets a line a run; `table` reads them. It asserts nothing.
import { appendFileSync, existsSync, mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { type Bag, type Measures, parseBag, previewBag, sew, templates } from '../../src/index.ts';
import { gateMargins, nudgeWord } from '../../src/report/thresholds.ts';

const [folder = 'artifacts/spread', what = 'settle'] = process.argv.slice(2);
const POINTS = [400, 560, 780, 1080, 1500, 2000];
const SEEDS = [1, 2, 3, 4];
/** Height kept under which a bag is a heap. */
const HEAP = 0.8;
/** Meshes up to this one are nudged, from the first seed: a nudge takes several times as long as coming to rest. */
const NUDGED = 1;
/** Margins beyond which a bag holds well clear of its limit, or has missed it by far. */
const FIRM = 0.5;
const FAR = -3;
const RUNS = `${folder}/runs.jsonl`;

interface Row {
  readonly bag: string;
  readonly option: string;
  readonly points: number;
  readonly seed: number;
  /** m */ readonly edge: number;
  readonly vertices: number;
  readonly status: string;
  readonly word: string;
  readonly margin: number;
  readonly decidedBy: string | null;
  readonly kept: number | null;
  readonly height: number | null;
  readonly measures: Measures;
  readonly inward: Measures | null;
  readonly nudge: { readonly tested: boolean; readonly shift: number | null; readonly sides: number };
  /** Largest of panels, of seams. */ readonly strain: readonly [number, number];
  readonly cpu: number;
}

const bags = [
  ...templates(),
  ...readdirSync('demos')
    .filter((f) => f.endsWith('-tote.bag.json'))
    .map((f) => ({ name: f.replace('.bag.json', ''), text: readFileSync(`demos/${f}`, 'utf8') })),
].map(({ name, text }) => ({ name, bag: parseBag(text) }));

const known = (): Row[] =>
  existsSync(RUNS)
    ? readFileSync(RUNS, 'utf8')
        .split('\n')
        .filter((l) => l !== '')
        .map((l) => JSON.parse(l))
    : [];
const keyOf = (r: Pick<Row, 'bag' | 'option' | 'points' | 'seed'>): string => `${r.bag} ${r.option} ${r.points} ${r.seed}`;

/** m. Two steps: seams and corners keep their points, so that a mesh does not have as many more as its triangles are smaller. */
function edgeOf(bag: Bag, points: number): number {
  let edge = 0.02;
  for (let k = 0; k < 2; k++) edge *= Math.sqrt(sew(bag, edge).mesh.vertexCount / points);
  return edge;
}

function settled(name: string, bag: Bag, option: string, points: number, seed: number, skipNudge: boolean): Row {
  const edge = edgeOf(bag, points),
    begun = process.cpuUsage(),
    { runs, verdict, vertices } = previewBag(bag, { option, bands: ['mid'], edgeLength: edge, seed, askAgain: false, skipNudge }),
    { user, system } = process.cpuUsage(begun),
    run = runs[0]!,
    most = (kind: string): number => Math.max(0, ...(run.strain?.parts ?? []).filter((p) => p.kind === kind).map((p) => p.strain));
  return {
    ...{ bag: name, option, points, seed, edge, vertices, status: run.status, word: verdict.word, margin: verdict.margin, decidedBy: verdict.decidedBy },
    ...{ kept: run.measures.heightKept, height: run.measures.draftedHeight, measures: run.measures },
    inward: run.inward.ran && run.inward.differs ? run.inward.measures : null,
    nudge: { tested: run.nudge.tested, shift: Number.isFinite(run.nudge.worstShift) ? run.nudge.worstShift : null, sides: run.nudge.sides ?? 4 },
    strain: [most('panel'), most('seam')],
    cpu: (user + system) / 1e6,
  };
}

/** What is known after the first mesh: does it lie near its limit, hold well clear of it, or has it lost its shape? */
type Tier = 'near' | 'firm' | 'far';
function tierOf(first: Row | undefined): Tier {
  if (first === undefined) return 'near';
  return (first.kept ?? 1) < HEAP || !(first.margin >= FAR) ? 'far' : first.margin > FIRM ? 'firm' : 'near';
}

function settleAll(): void {
  mkdirSync(folder, { recursive: true });
  const done = new Map(known().map((r) => [keyOf(r), r]));
  const each = (tier: Tier, meshes: readonly number[], seeds: readonly number[]): void => {
    for (const seed of seeds)
      for (const m of meshes)
        for (const { name, bag } of bags)
          for (const { name: option } of bag.options) {
            const at = { bag: name, option, points: POINTS[m]!, seed };
            if (done.has(keyOf(at)) || tierOf(done.get(keyOf({ ...at, points: POINTS[0]!, seed: SEEDS[0]! }))) !== tier) continue;
            const row = settled(name, bag, option, at.points, seed, seed > 1 || m > NUDGED);
            done.set(keyOf(at), row);
            appendFileSync(RUNS, `${JSON.stringify(row)}\n`);
            console.log(`${keyOf(at)}: ${row.word} ${row.margin.toFixed(3)} ${row.cpu.toFixed(1)} s`);
          }
  };
  const all = POINTS.map((_, m) => m);
  // What is not known yet counts as near: the first mesh of all. Heaps last, they take longest and say least.
  each('near', [0], [1]);
  for (const m of all) {
    each('near', [m], m % 2 === 0 ? SEEDS : [1]);
    each('firm', [m], [1]);
  }
  each('near', all, SEEDS);
  each('firm', all, SEEDS);
  each('far', [0, 3], [1, 2]);
}

interface Series {
  readonly gate: string;
  readonly margins: readonly number[];
}

/** Margins of one option by gate, over its runs. */
function seriesOf(rows: readonly Row[]): Series[] {
  const by = new Map<string, number[]>();
  const note = (gate: string, margin: number): void => void by.set(gate, [...(by.get(gate) ?? []), margin]);
  for (const r of rows) {
    for (const { gate, margin } of gateMargins(r.measures)) note(gate, margin);
    if (r.nudge.tested) note('nudge', nudgeWord(r.nudge.shift ?? Number.POSITIVE_INFINITY, r.height ?? 0.25).margin);
  }
  return [...by].map(([gate, margins]) => ({ gate, margins }));
}

const meanOf = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0) / list.length;
const range = (list: readonly number[], digits: number): string => `${Math.min(...list).toFixed(digits)} .. ${Math.max(...list).toFixed(digits)}`;

function table(): void {
  const options = new Map<string, Row[]>();
  for (const r of known()) options.set(`${r.bag}, ${r.option}`, [...(options.get(`${r.bag}, ${r.option}`) ?? []), r]);
  // Squared deviations and how many are free, by gate, of options that lie near enough to a limit for it to matter.
  const pooled = new Map<string, { squares: number; free: number; options: number; most: number }>();
  console.log('| option | runs | words | height kept | margins that move by more than 0.1 | largest strain, % |\n|---|---|---|---|---|---|');
  for (const [name, rows] of options) {
    const words = new Map<string, number>();
    for (const { word } of rows) words.set(word, (words.get(word) ?? 0) + 1);
    const series = seriesOf(rows).filter((s) => s.margins.length > 1);
    for (const { gate, margins } of series) {
      const mean = meanOf(margins),
        spread = Math.max(...margins) - Math.min(...margins);
      if (Math.abs(mean) > 1 || (mean > 0.9 && spread < 0.02)) continue;
      const sum = pooled.get(gate) ?? { squares: 0, free: 0, options: 0, most: 0 };
      pooled.set(gate, {
        squares: sum.squares + margins.reduce((a, m) => a + (m - mean) * (m - mean), 0),
        free: sum.free + margins.length - 1,
        options: sum.options + 1,
        most: Math.max(sum.most, spread),
      });
    }
    const moving = series.filter((s) => Math.max(...s.margins) - Math.min(...s.margins) > 0.1).map((s) => `${s.gate} ${range(s.margins, 2)}`);
    const cells = [
      name,
      rows.length,
      [...words].map(([w, n]) => `${w} ${n}`).join(', '),
      rows.every((r) => r.kept === null)
        ? '-'
        : range(
            rows.flatMap((r) => r.kept ?? []),
            3,
          ),
      (tierOf(rows.find((r) => r.points === POINTS[0] && r.seed === SEEDS[0])) === 'far' ? ['far from its limit'] : moving).join('; ') || 'none',
      range(
        rows.map((r) => 100 * Math.max(...r.strain)),
        2,
      ),
    ];
    console.log(`| ${cells.join(' | ')} |`);
  }
  console.log('\n| figure | standard deviation of its margin, pooled | options | runs less options | largest range |\n|---|---|---|---|---|');
  for (const [gate, { squares, free, options: count, most }] of pooled)
    console.log(`| ${gate} | ${Math.sqrt(squares / free).toFixed(3)} | ${count} | ${free} | ${most.toFixed(2)} |`);
}

if (what === 'settle') settleAll();
else table();
