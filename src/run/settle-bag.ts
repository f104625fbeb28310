import { seamsOf } from '../assembly/index.ts';
import type { Bag, Fault, Stance } from '../bag/types.ts';
import { BagError } from '../bag/types.ts';
import { overhangUpright, stitchingOf, stitchReference, weakest } from '../material/index.ts';
import type { Band } from '../material/types.ts';
import { alike } from '../numerics/index.ts';
import { endThatFollows, judge, withFollowing } from '../report/index.ts';
import type { BandRun, PatchStitching, Result } from '../report/types.ts';
import { clothMass, kernelsInUse, toEnd, type Work } from '../solver/index.ts';
import { type BandOptions, runBand } from './band-run.ts';
import { type CheckKind, checking, checksOf } from './checks.ts';
import { partsOf } from './parts.ts';
import { type EarlyNews, forward, type PreviewProgress, type Told } from './progress.ts';
import { BANDS, preparing, type Scene, type SceneOptions, withBand } from './scene.ts';

/** The middle's result while it is still being checked. */
export interface Unchecked {
  readonly result: Result;
  /** What it is still asked. */ readonly checks: readonly CheckKind[];
}

/** What is settled, how finely, and who is told. */
export interface PreviewOptions extends Omit<SceneOptions, 'band'> {
  /** Ends of the material's band to settle with, each once. Default: the middle, and the ends whose word does not follow from it (BandRun.standsFor). */
  readonly bands?: readonly Band[];
  /** Told where the work is; returning false cancels. */ readonly onProgress?: Told<PreviewProgress>;
  /** Told the word of a run as soon as it is certain, before its heap is at rest; once a run at most. */ readonly onWord?: (news: EarlyNews) => unknown;
  /** Told the middle's result as it is at rest, before it is asked again on another mesh or with its corners pressed; not told where it is asked nothing more. Its word may still change. */
  readonly onUnchecked?: (news: Unchecked) => unknown;
  /** Follow what falls to rest, or end each run as soon as its word is certain (BandRun.early: its figures are then those of a bag still falling). Default "rest". */
  readonly until?: 'rest' | 'word';
  /** A clock in ms, for the `seconds` of the result only; without it they are 0. */ readonly now?: () => number;
  /** Settle the middle once more with its upright corners pressed to a crease where that may change its word. Default true. */ readonly corners?: boolean;
  /** Skip the nudge test (a quick look), and what depends on it. Default false. */ readonly skipNudge?: boolean;
  /** Settle the middle once more on another mesh where its margin lies within the spread of meshes. Default true. */ readonly askAgain?: boolean;
  /** Nudge a standing bag from all four sides, also where its linear answer says that it comes back. Slower; default false. */ readonly everyNudge?: boolean;
}

/** The whole band in the order in which it is asked: what an end's word may follow from comes first. */
const MIDDLE_FIRST: readonly Band[] = ['mid', 'low', 'high'];

/** The bands that are asked for. Throws BagError for bands that are none. */
export function bandsOf({ bands = MIDDLE_FIRST }: Pick<PreviewOptions, 'bands'>): readonly Band[] {
  const expected = 'one to three of "low", "mid", "high", each once';
  if (!Array.isArray(bands)) throw new BagError([{ path: 'bands', got: JSON.stringify(bands) ?? String(bands), expected: `a list: ${expected}` }]);
  const faults: Fault[] = bands.flatMap((b, i) =>
    BANDS.includes(b) && bands.indexOf(b) === i ? [] : [{ path: `bands.${i}`, got: JSON.stringify(b), expected }],
  );
  if (bands.length === 0) faults.push({ path: 'bands', got: '[]', expected });
  if (faults.length > 0) throw new BagError(faults);
  return bands;
}

/**
 * The way of a parsed bag: Bag -> verdict with its reasons. One option, one stance, one to three ends of the band; in steps, for whoever must look up
 * in between (solver/work.ts). Ends whose cloth is the same (stated rigidities) are settled once.
 * Throws BagError for bad input, Cancelled when onProgress returned false. Same input, same numbers (apart from `seconds`).
 */
export function* settlingBag(bag: Bag, o: PreviewOptions = {}): Work<Result> {
  if (o.until !== undefined && o.until !== 'rest' && o.until !== 'word')
    throw new BagError([{ path: 'until', got: JSON.stringify(o.until) ?? String(o.until), expected: '"rest" or "word"' }]);
  const now = o.now ?? (() => 0);
  const bands = bandsOf(o),
    told = forward(o.onProgress),
    parts = bands.length;
  const begun = now();
  const mid = yield* preparing(bag, { ...o, band: 'mid' });
  const shared = now() - begun;
  const done: { readonly scene: Scene; readonly run: BandRun }[] = [];
  /** Options of the i-th run. */
  const each = (i: number, setup: number): BandOptions => ({
    skipNudge: o.skipNudge ?? false,
    everyNudge: o.everyNudge ?? false,
    onWord: o.onWord,
    untilWord: o.until === 'word',
    told: (at) => told({ ...at, fraction: (i + at.fraction) / parts }),
    now,
    setup,
  });
  let follows: Band | null = null;
  for (const [i, band] of bands.entries()) {
    const from = now(),
      scene = yield* withBand(mid, band, o),
      same = done.find((d) => alike(d.scene.model, scene.model) && alike(d.scene.laminates, scene.laminates));
    // Cloth that is the same costs nothing: it has figures of its own.
    if (band === follows && !same) continue;
    const run: BandRun = same
      ? { ...same.run, band, seconds: { setup: (now() - from) / 1000, settle: 0, nudge: 0 } }
      : yield* runBand(scene, each(i, shared + now() - from));
    const checks = checksOf(bag, run, o);
    if (checks.length > 0) o.onUnchecked?.({ result: resultOf(mid, [run]), checks: checks.map((c) => c.kind) });
    let whole = run;
    // What else the middle is asked has no word of its own to tell.
    for (const check of checks) whole = { ...whole, ...(yield* checking(check, o, { ...each(i, 0), onWord: undefined })) };
    follows ??= o.bands === undefined ? endThatFollows(whole) : null;
    done.push({ scene, run: whole });
  }
  const runs = done.map((d) => (follows !== null && d.run.band === 'mid' && !done.some((e) => e.run.band === follows) ? withFollowing(d.run) : d.run));
  return resultOf(
    mid,
    runs.sort((a, b) => BANDS.indexOf(a.band) - BANDS.indexOf(b.band)),
  );
}

/** The same at one go. */
export const settleBag = (bag: Bag, o: PreviewOptions = {}): Result => toEnd(settlingBag(bag, o));

/** What an option weighs, kg, and its seams: known before anything is settled. */
export const weigh = ({ bag, mesh, model, laminates }: Scene): Pick<Result, 'massKg' | 'seams' | 'parts'> => ({
  massKg: clothMass(model),
  ...(bag.members || bag.hardware ? { parts: partsOf({ bag, mesh }) } : {}),
  seams: seamsOf(bag, mesh, laminates),
});

/** Runs and what they have in common. */
function resultOf(scene: Scene, runs: readonly BandRun[]): Result {
  const { bag, stance, mesh, model, laminates } = scene,
    weighed = weigh(scene);
  return {
    bag: bag.name,
    option: scene.option.name,
    stance: stance.name,
    ground: (stance.kind === 'standing' && stance.ground) || null,
    vertices: mesh.vertexCount,
    settings: { edgeLength: scene.edgeLength, seed: scene.seed, kernels: kernelsInUse() },
    massKg: weighed.massKg,
    ...(weighed.parts ? { parts: weighed.parts } : {}),
    evidence: weakest(laminates.flat().map((l) => l.evidence)),
    stacks: laminates.flatMap((list, p) =>
      list.map((l, r) => ({
        panel: bag.panels[p]!.name,
        region: r === 0 ? null : bag.panels[p]!.regions[r - 1]!.name,
        story: l.story,
        evidence: l.evidence,
        arealMass: l.arealMass,
        thickness: l.thickness,
        bending: [...l.bending],
        inPlane: [...l.inPlane],
        overhang: overhangUpright(l, bag.panels[p]!),
      })),
    ),
    seams: weighed.seams,
    ...patchStitching(bag, stance),
    ...(scene.pattern.length > 0 ? { pattern: scene.pattern } : {}),
    mesh,
    triRest: model.triRest,
    drafted: scene.drafted,
    runs,
    verdict: judge(runs, bag.wanted, scene.pattern),
  };
}

/** A result with the runs of several: all of one bag, option, stance and mesh. */
export const withRuns = (bag: Bag, result: Result, runs: readonly BandRun[]): Result => ({
  ...result,
  runs,
  verdict: judge(runs, bag.wanted, result.pattern ?? []),
});

/** What the stitching of the carrying straps' ends comes to, where the file states their thread. */
function patchStitching(bag: Bag, stance: Stance): Pick<Result, 'stitching'> {
  if (stance.kind !== 'hung') return {};
  const stitching = bag.straps.flatMap((strap): PatchStitching[] => {
    const s = stitchingOf(strap),
      [one, two] = strap.anchors;
    return s && stance.straps.includes(strap.name) ? [{ strap: strap.name, ...s, anchors: [stitchReference(one, s), stitchReference(two, s)] }] : [];
  });
  return stitching.length > 0 ? { stitching } : {};
}
