import { type Bag, BagError } from '../../bag/types.ts';
import type { Band } from '../../material/types.ts';
import { libm } from '../../numerics/index.ts';
import { isWorse, type NeedEdge, type NeedSearch, type NeedTry } from '../../report/index.ts';
import type { Result } from '../../report/types.ts';
import type { PreviewJob } from '../jobs.ts';
import { previewBag } from '../preview.ts';
import type { PreviewProgress, Told } from '../progress.ts';
import { type Climbed, climb, type Edge, edgeOf, type Ladder, RUNG, type Side } from './ladder.ts';
import { withBending } from './scaled.ts';

/** What is settled again and again. */
export interface Subject {
  /** `wanted` is what is asked for. */ readonly bag: Bag;
  readonly option: string;
  readonly stance: string;
  readonly panels: readonly string[];
  readonly edgeLength: number;
  /** Does what stiffens the panels weigh as an interfacing would? */ readonly mass: 'stays' | 'grows';
  /** Told of each settle before it runs, by its factor and whether it is one on the finer mesh; gives the progress it tells. */
  readonly settling: (factor: number, finer: boolean) => Told<PreviewProgress>;
  /** Settles, or looks up what was settled elsewhere. */ readonly settle: Settle;
  /** Hears of what will be asked whatever the next answers are. */ readonly ahead?: (of: Trial) => void;
}

/** One settle of a search. */
export interface Trial {
  readonly subject: Subject;
  readonly band: Band;
  readonly factor: number;
  /** m */ readonly edgeLength: number;
  readonly until: 'rest' | 'word';
}

/** A settle's answer and the points of its mesh. */
export interface Tried {
  readonly it: NeedTry;
  readonly vertices: number;
}

type Settle = (of: Trial) => Tried;

/** Edge of the finer mesh over the search's own: 1.5 times the points. */
const FINER = 1 / Math.sqrt(1.5);

export const factorOf = (rung: number): number => (rung >= 0 ? libm.power(RUNG, rung) : 1 / libm.power(RUNG, -rung));
/** The rung nearest to a factor. */
export const rungOf = (factor: number): number => Math.round(libm.log(factor) / libm.log(RUNG));

/** Can what is wanted be missed by too much stiffness? */
const endsAbove = (wanted: Bag['wanted']): boolean => wanted === 'slouchy' || wanted === 'soft';

/** One settle as a job, as `settle` judges it: nudged where it stands. Neither a second mesh nor pressed corners are asked: the finer mesh at the end does the one, the other is another bag. */
export const jobOf = ({ subject: s, band, factor, edgeLength, until }: Trial): PreviewJob => ({
  bag: withBending(s.bag, s.option, s.panels, factor, s.mass),
  options: { option: s.option, stance: s.stance, bands: [band], edgeLength, askAgain: false, corners: false, until },
});

/** Settles at one go. */
export const settleNow: Settle = (of) => {
  const { bag, options } = jobOf(of),
    onProgress = of.subject.settling(of.factor, of.edgeLength < of.subject.edgeLength);
  return triedOf(previewBag(bag, { ...options, onProgress }), of.factor);
};

/** What a search takes down of a settled bag. */
export function triedOf({ verdict, runs, vertices }: Result, factor: number): Tried {
  const { status, residual } = runs[0]!,
    { word, fit, margin } = verdict;
  const side: Side = word === 'no verdict' || fit === null ? null : fit === 'meets' ? 'meets' : fit === 'too stiff' ? 'stiff' : 'soft';
  return { it: { factor, word, fit, side, margin: Number.isFinite(margin) ? margin : null, status, residual }, vertices };
}

/**
 * The least factor on the bending of the subject's panels at which what is wanted is met at one end of the band, and where it can be too stiff, the most.
 * start: rung tried first; near: the answer is likely to be there.
 */
export function search(s: Subject, band: Band, o: { readonly start: number; readonly near: boolean }): NeedSearch & { vertices: number } {
  const tries = new Map<number, NeedTry>();
  let vertices = 0;
  // What falls is followed to its heap where the heap is what is judged, and where it is one side of the answer.
  const until = s.bag.wanted === 'slouchy' ? 'rest' : 'word';
  const climbed = climb((rung) => {
    const made = s.settle({ subject: s, band, factor: factorOf(rung), edgeLength: s.edgeLength, until });
    tries.set(rung, made.it);
    vertices = made.vertices;
    if (made.it.status === 'settled' && made.it.word === 'no verdict')
      throw new BagError([
        { path: `stances.${s.stance}`, got: 'nothing to judge in this stance', expected: 'a bag with a mouth or walls that stand, or one that hangs' },
      ]);
    return made.it.side;
  });
  const ladder = { sideOf: climbed.ask, start: o.start, ...(o.near ? { stride: 2 } : {}) };
  const { soft, stiff } = edgesOf(climbed, ladder, endsAbove(s.bag.wanted));
  /** An edge of what meets: both its states have a word, one meets and the other does not. */
  const told = (edge: Edge | null, least: boolean): NeedEdge | null => {
    if (edge === null || edge.below === null || edge.above === null) return null;
    const [met, missed] = least ? [edge.above, edge.below] : [edge.below, edge.above];
    if (climbed.sides.get(met) !== 'meets') return null;
    for (const rung of [met, missed])
      if (tries.get(rung)!.status !== 'settled')
        tries.set(rung, s.settle({ subject: s, band, factor: factorOf(rung), edgeLength: s.edgeLength, until: 'rest' }).it);
    return { met: tries.get(met)!, missed: tries.get(missed)!, gap: factorOf(edge.above - edge.below) - 1 };
  };
  const [least, most] = [told(soft, true), told(stiff, false)];
  const order = [...tries].sort(([a], [b]) => a - b);
  const worsens = (i: number): boolean =>
    order[i]![1].side !== null && order.slice(0, i).some(([, b]) => b.side !== null && isWorse(order[i]![1].word, b.word));
  const odd = order.filter(([rung, { side }], i) => contradicts(rung, side, soft, stiff) || worsens(i)).map(([, it]) => it);
  return { band, least, most, met: order.some(([, it]) => it.side === 'meets'), tries: order.map(([, it]) => it), odd, vertices };
}

/** Both edges of what meets. What the one asked may speak against the other: both are sought until neither asks anything new. */
export function edgesOf(c: Climbed, o: Ladder, both: boolean): { readonly soft: Edge; readonly stiff: Edge | null } {
  for (;;) {
    const soft = edgeOf(c, o, (side) => side === 'soft', true),
      asked = c.sides.size,
      stiff = both ? edgeOf(c, o, (side) => side !== 'stiff', false) : null;
    if (c.sides.size === asked) return { soft, stiff };
  }
}

/** Does a rung's answer speak against the edges that are told? */
function contradicts(rung: number, side: Side, soft: Edge, stiff: Edge | null): boolean {
  if (side === null) return false;
  if (soft.below !== null && rung <= soft.below) return side !== 'soft';
  if (stiff !== null && stiff.above !== null && rung >= stiff.above) return side !== 'stiff';
  return side === 'soft' || (stiff !== null && side === 'stiff');
}

/** What a search found, with both ends of each edge settled once more on a mesh of 1.5 times the points. */
export function onFinerMesh<S extends NeedSearch>(s: Subject, made: S): S {
  const edge = (e: NeedEdge | null): NeedEdge | null => e && { ...e, finer: onFiner(s, made.band, e) };
  for (const e of [made.least, made.most]) if (e) for (const t of [e.met, e.missed]) s.ahead?.(finerOf(s, made.band, t.factor));
  return { ...made, least: edge(made.least), most: edge(made.most) };
}

const finerOf = (subject: Subject, band: Band, factor: number): Trial => ({
  subject,
  band,
  factor,
  edgeLength: Math.round(subject.edgeLength * FINER * 1e5) / 1e5,
  until: 'word',
});

function onFiner(s: Subject, band: Band, { met, missed }: Pick<NeedEdge, 'met' | 'missed'>): NonNullable<NeedEdge['finer']> {
  const { edgeLength } = finerOf(s, band, met.factor),
    [a, b] = [s.settle(finerOf(s, band, met.factor)), s.settle(finerOf(s, band, missed.factor))];
  return { edgeLength, vertices: a.vertices, met: a.it, missed: b.it, agrees: a.it.side === 'meets' && b.it.side === missed.side };
}
