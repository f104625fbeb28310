/** Which of the stacks on a shelf do what is wanted of a bag, the best first. */
import { isLeather, WANTED } from '../../bag/index.ts';
import { type Bag, BagError, type Fault, type Wanted } from '../../bag/types.ts';
import { overhangUpright } from '../../material/index.ts';
import type { BagLaminates, Laminate } from '../../material/types.ts';
import { libm, sha256 } from '../../numerics/index.ts';
import { draftPanels } from '../../panels/index.ts';
import { type ChooseReport, type ChosenStack, type Criterion, type NeedReport, type SettledStack, stableJson, VERSION } from '../../report/index.ts';
import type { Result } from '../../report/types.ts';
import type { Shelf } from '../../shelf/index.ts';
import type { Executor, JobOptions } from '../jobs.ts';
import { assertKnown, CHOOSE_KEYS, RUN_KEYS } from '../known-options.ts';
import { coarseEdge } from '../mesh-size.ts';
import { findNeed } from '../need/index.ts';
import { preview } from '../preview-file.ts';
import { forward, type SeriesProgress, type Told } from '../progress.ts';
import type { SeriesRun } from '../series.ts';
import { allTogether, createStop, heed } from '../stop.ts';
import { type Areas, areasOf, figuresOf, laminatesOf } from './figures.ts';
import { groupsOf } from './groups.ts';
import { createSearch, type Field, type Search, type Side } from './search.ts';
import { isSofter } from './softer.ts';
import { bagOfChoice, type Choice, choicesOf, withShelfMaterials } from './stacks.ts';

/** What a settled stack came to, as it is kept between two searches. Plain data. */
export interface Kept {
  /** Digest of everything that the answer hangs on. */ readonly key: string;
  readonly word: SettledStack['word'];
  readonly fit: SettledStack['fit'];
  readonly margin: number | null;
  readonly status: SettledStack['status'];
  readonly residual: number;
  readonly vertices: number;
}

/** What is asked. */
export interface ChooseOptions {
  readonly option?: string;
  readonly stance?: string;
  /** Default: as the file wants it. */ readonly wanted?: Wanted;
  /** Default 'weight'. */ readonly by?: Criterion;
  /** What stays as drawn. */ readonly keep?: readonly ('shell' | 'lining')[];
  /** How many of the best are asked for, 1 to 10; default 3. */ readonly most?: number;
  /** The bolt that must do: a typical one (default) or a soft one. */ readonly bolt?: 'typical' | 'soft';
  /** m; default coarseEdge(bag), about 650 points. */ readonly edgeLength?: number;
  /** Told where the work is; returning false cancels. `run` says how many stacks are settled and about how many are left. */ readonly onProgress?: Told<SeriesProgress>;
  /** Answers of an earlier search: what they know is not settled again. */ readonly known?: readonly Kept[];
  /** Told of every stack that has been settled, for whoever keeps them. */ readonly onSettled?: (kept: Kept) => unknown;
}

/** Stacks asked for at once: always two, so that the same ones are settled whatever the number of threads. */
const LANES = 2;
export const CRITERIA: readonly Criterion[] = ['weight', 'cost', 'bulk', 'layers'];

/** A choice with everything that is known of it. */
interface Prepared {
  readonly choice: Choice;
  readonly bag: Bag;
  readonly laminates: BagLaminates;
  readonly stack: ChosenStack;
}

/** All choices in the order of the criterion, and the rules of the search. */
export interface PreparedShelf {
  readonly all: readonly Prepared[];
  readonly field: Field;
  readonly notes: readonly string[];
}

const flat = (l: BagLaminates): Laminate[] => l.flat();

/** Everything that is known before anything is settled. Throws BagError with every fault. */
export async function prepareShelf(bag: Bag, shelfAsRead: Shelf, o: ChooseOptions = {}): Promise<PreparedShelf & Asked> {
  const asked = readAsked(bag, o),
    { option, by } = asked;
  const { materials, shelf } = withShelfMaterials(bag, shelfAsRead);
  const { choices, notes } = choicesOf({ bag, option, shelf, keep: o.keep ?? [] });
  const draft = draftPanels(bag),
    whole = { ...bag, materials };
  const { cutAreas } = await import('../../pattern/cutting.ts');
  const inners = choices.flatMap((c) => Object.values(c.inner).flat()),
    known = new Map<string, Areas>();
  /** A hem may be another one in leather: cloth and leather are two patterns. */
  const areasFor = ({ shell }: Choice): Areas => {
    const key = shell === null ? '' : String(isLeather(whole, shell.material)),
      areas = known.get(key) ?? areasOf(whole, option, inners, shell?.material ?? null, cutAreas);
    known.set(key, areas);
    return areas;
  };
  const made = choices.map((choice) => {
    const of = bagOfChoice({ bag: whole, option }, materials, choice, 'chosen'),
      laminates = laminatesOf(of);
    return { choice, of, laminates, figures: figuresOf({ bag: whole, option, shelf, draft, areas: areasFor(choice) }, choice, of, laminates) };
  });
  if (by === 'cost')
    assertPriced(
      shelf,
      made.map((m) => m.figures),
    );
  const value = (f: (typeof made)[number]['figures']): number => (by === 'weight' ? f.weight : by === 'cost' ? f.cost! : by === 'bulk' ? f.bulk : f.layers);
  // Ties go to the lighter, then to what stands first on the shelf.
  const order = made.map((m, i) => ({ ...m, i })).sort((a, b) => value(a.figures) - value(b.figures) || a.figures.weight - b.figures.weight || a.i - b.i);
  const all = order.map(({ choice, of, laminates, figures }, place): Prepared => {
    const name = figures.name.slice(0, 60).trim();
    return { choice, bag: renamed(of, name), laminates, stack: { place: place + 1, ...figures } };
  });
  const lead = groupsOf(bag)[0]!.panels,
    heights = draft.panels.map(({ bounds: [, y0, , y1] }) => y1 - y0);
  const promise = all.map(({ laminates }) => Math.min(...lead.map((p) => libm.log(overhangUpright(laminates[p]![0]!, bag.panels[p]!) / heights[p]!))));
  const cells = all.map((p) => flat(p.laminates)),
    alone = asked.stance.kind === 'standing' && asked.stance.load === null && (asked.stance.contents ?? []).length === 0,
    factor = !alone ? 'one' : bag.straps.length > 0 ? 'up to one' : 'any';
  // A base on a level table: what it weighs hangs on nothing.
  const onTable = asked.stance.kind === 'standing' && !asked.stance.ground,
    lies = bag.panels.flatMap((p) => [p, ...p.regions].map(() => onTable && p.role === 'base'));
  const field: Field = {
    count: all.length,
    softer: (a, b) => isSofter(cells[a]!, cells[b]!, factor, lies),
    promise: (i) => promise[i]!,
    likely: LIKELY,
    most: o.most ?? 3,
  };
  const missing = all[0] ? all[0].stack.cut.filter((c) => !shelf.items.some((i) => i.id === c.item)).map((c) => c.name) : [];
  return { ...asked, all, field, notes: missing.length > 0 ? [...notes, `Not on the shelf, and in no cost: ${missing.join(', ')}.`] : notes };
}

/** Overhang over height from which a boxed bag may hold, as a logarithm: half its height. A guess that a few settles put right. */
const LIKELY = libm.log(0.5);

const renamed = (bag: Bag, name: string): Bag => ({ ...bag, options: [{ ...bag.options[0]!, name }] });

interface Asked {
  readonly option: Bag['options'][number];
  readonly stance: Bag['stances'][number];
  readonly wanted: Wanted;
  readonly by: Criterion;
  readonly bolt: 'typical' | 'soft';
  readonly edgeLength: number;
}

function readAsked(bag: Bag, o: ChooseOptions): Asked {
  const faults: Fault[] = [];
  const text = (v: unknown): string => JSON.stringify(v) ?? String(v);
  const oneOf = (words: readonly string[]): string => `one of ${words.map((w) => `"${w}"`).join(', ')}`;
  const find = <T extends { readonly name: string }>(list: readonly T[], name: string | undefined, path: string): T | undefined => {
    const found = name === undefined ? list[0] : list.find((x) => x.name === name);
    if (!found) faults.push({ path, got: text(name), expected: oneOf(list.map((x) => x.name)) });
    return found;
  };
  const word = <T extends string>(path: string, value: T, words: readonly T[]): T => {
    if (!words.includes(value)) faults.push({ path, got: text(value), expected: oneOf(words) });
    return value;
  };
  const option = find(bag.options, o.option, 'options'),
    stance = find(bag.stances, o.stance, 'stances');
  const wanted = word('wanted', o.wanted ?? bag.wanted, WANTED),
    by = word('by', o.by ?? 'weight', CRITERIA),
    bolt = word('bolt', o.bolt ?? 'typical', ['typical', 'soft'] as const);
  for (const k of o.keep ?? []) word('keep', k, ['shell', 'lining'] as const);
  const most = o.most ?? 3;
  if (!Number.isInteger(most) || most < 1 || most > 10) faults.push({ path: 'most', got: text(o.most), expected: 'a whole number from 1 to 10' });
  if (faults.length > 0) throw new BagError(faults);
  return { option: option!, stance: stance!, wanted, by, bolt, edgeLength: o.edgeLength ?? coarseEdge(bag) };
}

/** An order by cost needs the price of everything that may be taken. */
function assertPriced(shelf: Shelf, figures: readonly Pick<ChosenStack, 'cut'>[]): void {
  const used = new Set(figures.flatMap((f) => f.cut.map((c) => c.item)));
  const faults = shelf.items
    .filter((i) => used.has(i.id) && (i.sold === null || i.sold.price === null))
    .map((i): Fault => ({ path: `items.${i.id}.price`, got: 'nothing', expected: 'a price, since the stacks are ranked by cost' }));
  if (faults.length > 0) throw new BagError(faults);
}

/** Quick looks of the search; the heap of what falls need not be waited for where its word is enough. */
const lookOf = (a: Asked): JobOptions => ({
  stance: a.stance.name,
  bands: [a.bolt === 'soft' ? 'low' : 'mid'],
  edgeLength: a.edgeLength,
  askAgain: false,
  corners: false,
  until: a.wanted === 'slouchy' ? 'rest' : 'word',
});

const here: Executor = (job, watch) => preview(job.bag, { ...job.options, ...watch });

const keptOf = (key: string, { verdict, runs, vertices }: Result): Kept => {
  const { word, fit, margin } = verdict;
  return { key, word, fit, margin: Number.isFinite(margin) ? margin : null, status: runs[0]!.status, residual: runs[0]!.residual, vertices };
};

const sideOf = ({ word, fit }: Pick<Kept, 'word' | 'fit'>): Side =>
  word === 'no verdict' || fit === null ? null : fit === 'meets' ? 'meets' : fit === 'too stiff' ? 'stiff' : 'soft';

/**
 * The stacks of a shelf that do what is wanted, the best by a criterion first: certain among all that the shelf allows, by the three rules of createSearch. Weight, cost, bulk and
 * layers follow from the pattern (figuresOf), so that the order needs no settle; the word of a stack is settled, one bolt, on a coarse mesh, nudged where it stands. Those that are
 * ranked are then settled with all three bolts and asked again near their limit. Same input, same stacks settled, same answer, whatever the threads and their number.
 * Rejects with BagError (every fault), Cancelled, or the signal's reason.
 */
export async function choose(bag: Bag, shelf: Shelf, o: ChooseOptions & SeriesRun = {}): Promise<ChooseReport> {
  assertKnown(o, [...CHOOSE_KEYS, ...RUN_KEYS]);
  heed(o.signal);
  return chooseAmong(bag, shelf, await prepareShelf(bag, shelf, o), o);
}

/** As choose, of a shelf that prepareShelf made ready with the same options: for whoever needs its stacks as well. */
export async function chooseAmong(bag: Bag, shelf: Shelf, p: PreparedShelf & Asked, o: ChooseOptions & SeriesRun = {}): Promise<ChooseReport> {
  const search = createSearch(p.field),
    stop = createStop(o.signal),
    run = o.executor ?? here;
  const kept = new Map((o.known ?? []).map((k) => [k.key, k])),
    answers = new Map<number, Kept>();
  let settles = 0;
  const tell = forward(o.onProgress);
  const progress = (i: number, lead: string, left: number) => (at: { stage: string; fraction: number; positions: Float64Array }) =>
    tell({ run: lead, stage: `${p.all[i]!.stack.name}, ${at.stage}`, fraction: settles / (settles + left), positions: at.positions });
  const settle = async (i: number, options: JobOptions, lead: string, left: number): Promise<Result> => {
    const made: Bag = { ...p.all[i]!.bag, wanted: p.wanted };
    return run({ bag: made, options: { ...options, option: made.options[0]!.name } }, { signal: stop.signal, onProgress: progress(i, lead, left) });
  };
  const look = lookOf(p);
  const ask = async (i: number): Promise<void> => {
    const key = sha256(stableJson({ bag: { ...p.all[i]!.bag, name: '', note: '' }, wanted: p.wanted, look, version: VERSION }));
    const before = kept.get(key);
    const left = likelyLeft(search, p.field);
    const found = before ?? keptOf(key, await settle(i, look, `stack ${settles + 1}, about ${left} more`, left));
    settles++;
    answers.set(i, found);
    if (!before) o.onSettled?.(found);
  };
  try {
    for (let batch = search.next(LANES); batch.length > 0; batch = search.next(LANES)) {
      await allTogether(
        batch.map((i) => () => ask(i)),
        stop,
        o.executor ? LANES : 1,
      );
      for (const i of batch) search.tell(i, sideOf(answers.get(i)!));
    }
    const of = (i: number): SettledStack => {
      const { word, fit, margin, status, residual } = answers.get(i)!;
      return { ...p.all[i]!.stack, word, fit, side: sideOf(answers.get(i)!), margin, status, residual };
    };
    const best = search.best(),
      nearest = best.length > 0 ? null : nearestOf([...search.settled.keys()].map(of), p.wanted);
    const shown = nearest ? [nearest.place - 1] : best;
    const wholes = new Map<number, NonNullable<SettledStack['whole']>>();
    await allTogether(
      shown.map((i) => async () => {
        const { verdict } = await settle(i, { ...look, bands: ['low', 'mid', 'high'], askAgain: true }, 'all three bolts', shown.length);
        wholes.set(i, { word: verdict.word, byBand: verdict.byBand, margin: Number.isFinite(verdict.margin) ? verdict.margin : null });
      }),
      stop,
      o.executor ? LANES : 1,
    );
    const ranked = best.map((i) => ({ ...of(i), whole: wholes.get(i)! }));
    const rules = [...search.ruledOut.values()].map((r) => r.rule);
    const count = (rule: string): number => rules.filter((r) => r === rule).length;
    return {
      bag: bag.name,
      option: p.option.name,
      stance: p.stance.name,
      hung: p.stance.kind === 'hung',
      wanted: p.wanted,
      by: p.by,
      bolt: p.bolt,
      shelf: shelf.name,
      currency: shelf.currency,
      edgeLength: p.edgeLength,
      vertices: answers.size === 0 ? 0 : [...answers.values()][0]!.vertices,
      stacks: p.all.length,
      ruledOut: { softer: count('softer'), stiffer: count('stiffer'), behind: count('behind') },
      ranked,
      settled: [...search.settled.keys()].sort((a, b) => a - b).map((i) => ranked.find((r) => r.place === i + 1) ?? of(i)),
      asked: p.field.most,
      nearest: nearest && { stack: { ...nearest, whole: wholes.get(nearest.place - 1)! }, need: needOf(p, nearest, tell) },
      notes: p.notes,
    };
  } finally {
    stop.release();
  }
}

/** About how many more settles: each halves what is open or better; and one for each that is asked for. */
const likelyLeft = (search: Search, { most }: Field): number => Math.ceil(libm.log(1 + search.open()) / libm.log(2)) + Math.max(0, most - search.best().length);

/** The settled stack that misses least: by its margin, as far as it says. */
function nearestOf(all: readonly SettledStack[], wanted: Wanted): SettledStack | null {
  const misses = (s: SettledStack): number =>
    s.margin === null ? Number.POSITIVE_INFINITY : s.side === 'stiff' || wanted === 'slouchy' ? Math.abs(s.margin) : -s.margin;
  return all.reduce<SettledStack | null>((a, b) => (a === null || misses(b) < misses(a) ? b : a), null);
}

/** What the nearest stack would need; null where no rigidity does it. */
function needOf(p: PreparedShelf & Asked, { place }: SettledStack, tell: Told<SeriesProgress>): NeedReport | null {
  const { bag } = p.all[place - 1]!;
  const onProgress = (at: SeriesProgress): unknown => tell({ ...at, run: `what it would need, ${at.run}` });
  try {
    return findNeed(bag, {
      option: bag.options[0]!.name,
      stance: p.stance.name,
      wanted: p.wanted,
      edgeLength: p.edgeLength,
      softBolt: p.bolt === 'soft',
      onProgress,
    });
  } catch (error) {
    if (error instanceof BagError) return null;
    throw error;
  }
}
