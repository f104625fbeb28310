import { assembling, fillBag, type LaidClosure, laidClosures, pullOf, type Rig, rigStraps, type Tied, withClosures, withStraps } from '../assembly/index.ts';
import { finishedAs } from '../bag/index.ts';
import { type Bag, BagError, type BagOption, type Fault, type Stance } from '../bag/types.ts';
import { layUp, sewnLayers } from '../material/index.ts';
import type { BagLaminates, Band } from '../material/types.ts';
import { meshingPanels } from '../mesh/index.ts';
import type { BagMesh } from '../mesh/types.ts';
import { draftPanels, refuseUnsewable, toRepeat } from '../panels/index.ts';
import { bulging, placingPanels } from '../placement/index.ts';
import { type Drop, joinBodies, toEnd, type Work } from '../solver/index.ts';
import type { Model } from '../solver/types.ts';
import { GRAVITY } from '../units/index.ts';
import { EDGE_RANGE, tooFine, usualEdge } from './mesh-size.ts';

/** Ends of a material's band and its middle. */
export const BANDS: readonly Band[] = ['low', 'mid', 'high'];
/** Outward bulge of the stuffed start, m; 1 to 8 mm end in the same state (measured). */
const STUFFED = 0.004;
/** Of the start's small waviness, unless another is asked for. */
export const SEED = 1;

/** Which option, stance and end of the band, and how finely. */
export interface SceneOptions {
  /** Option name; default the file's first. */ readonly option?: string;
  /** Stance name; default the file's first. */ readonly stance?: string;
  readonly band?: Band;
  /** m; default usualEdge(bag), about 2000 points */ readonly edgeLength?: number;
  /** How rigid contents are let fall: solver/rigid.ts. Left to the caller because the page loads it only when a bag has any. */ readonly drop?: Drop;
  /** Of the start's small waviness; default 1. Another seed asks whether the verdict hangs on it. */ readonly seed?: number;
}

/** A bag made ready for the solver: shape, cloth and surroundings of one option, one stance, one end of the band. */
export interface Scene {
  readonly bag: Bag;
  readonly option: BagOption;
  readonly stance: Stance;
  readonly band: Band;
  readonly mesh: BagMesh;
  readonly laminates: BagLaminates;
  readonly model: Model;
  /** 3n sewn, undeformed */ readonly drafted: Float64Array;
  readonly rig: Rig;
  /** Closures as they lie on the mesh; empty where the stance leaves them out. */ readonly laid: readonly LaidClosure[];
  /** Ties of those that are closed, in the order in which they are. */ readonly tied: readonly Tied[];
  /** 3n stuffed start, then the straps' own points */ readonly start: Float64Array;
  /** 3n start pressed inward, made when it is asked for: few bags need it. */ readonly inward: () => Float64Array;
  /** What the pattern check warns of in how the bag is sewn, a sentence each. */ readonly pattern: readonly string[];
  /** Per panel, m */ readonly thickness: readonly number[];
  /** m */ readonly edgeLength: number;
  readonly seed: number;
}

/** The one of that name, the first without a name; null after a fault. */
function named<T extends { readonly name: string }>(list: readonly T[], name: string | undefined, what: string, faults: Fault[]): T | null {
  const found = name === undefined ? list[0] : list.find((o) => o.name === name);
  if (found) return found;
  faults.push({ path: `${what}s`, got: JSON.stringify(name), expected: `one of ${list.map((o) => `"${o.name}"`).join(', ')}` });
  return null;
}

/** What is asked of a bag, looked up. Throws BagError with every fault of the question. */
export function assertAsked(bag: Bag, o: SceneOptions): { option: BagOption; stance: Stance; edgeLength: number; seed: number } {
  const faults: Fault[] = [];
  const option = named(bag.options, o.option, 'option', faults),
    stance = named(bag.stances, o.stance, 'stance', faults),
    edgeLength = o.edgeLength ?? usualEdge(bag),
    seed = o.seed ?? SEED;
  if (typeof edgeLength !== 'number') faults.push({ path: 'mesh', got: JSON.stringify(edgeLength), expected: 'an edge length as a number of metres' });
  else if (!(edgeLength >= EDGE_RANGE.from && edgeLength <= EDGE_RANGE.to))
    faults.push({ path: 'mesh', got: `${edgeLength * 1000} mm`, expected: 'an edge length of 0.5 to 100 mm' });
  else faults.push(...[tooFine(bag, edgeLength)].filter((f) => f !== null));
  if (o.band !== undefined && !BANDS.includes(o.band)) faults.push({ path: 'band', got: JSON.stringify(o.band), expected: '"low", "mid" or "high"' });
  if (!Number.isSafeInteger(seed)) faults.push({ path: 'seed', got: String(seed), expected: 'a whole number' });
  if (stance && stance.kind !== 'held' && (stance.contents?.length ?? 0) > 0 && !o.drop)
    faults.push({ path: 'drop', got: 'nothing', expected: 'how rigid contents are let fall: await loadDrop()' });
  if (faults.length > 0 || !option || !stance) throw new BagError(faults);
  return { option, stance, edgeLength, seed };
}

/** Drafts, meshes, lays up and assembles. Throws BagError with every fault of what is asked for, or of a pattern that cannot be sewn. Deterministic. */
export const prepareScene = (bag: Bag, o: SceneOptions = {}): Scene => toEnd(preparing(bag, o));

/** The same in steps: after the pattern's check, the mesh, the sewn shape and the model. */
export function* preparing(bag: Bag, o: SceneOptions = {}): Work<Scene> {
  const { option, stance, edgeLength, seed } = assertAsked(bag, o);
  const { mesh, drafted, pattern } = yield* sewing(bag, edgeLength);
  yield;
  return yield* equipping({ bag: finishedAs(bag, option), option, stance, mesh, drafted, pattern, edgeLength, seed }, o.band ?? 'mid', o.drop);
}

/** The same scene with another end of the band: shape and surroundings stay. */
export function* withBand(scene: Scene, band: Band, o: Pick<SceneOptions, 'drop'>): Work<Scene> {
  return band === scene.band ? scene : yield* equipping(scene, band, o.drop);
}

/** A sewn, undeformed shape. */
export interface Sewn {
  readonly mesh: BagMesh;
  /** 3n, m */ readonly drafted: Float64Array;
  /** As Scene.pattern. */ readonly pattern: readonly string[];
}

/** The shapes sewn last, latest first, and what each was sewn from: a bag's own, and that of the second mesh on which it may be asked again. */
const kept: { readonly from: string; readonly sewn: Sewn }[] = [];
const KEPT = 2;

/**
 * The sewn, undeformed shape alone: what an edit of the pattern shows before anything is settled. Throws BagError where the pattern cannot be sewn as drawn: the one
 * gate in front of everything that settles. Deterministic. What the last calls sewed is kept: a bag is asked for with one
 * cloth after another, and at 2041 points meshing and placing are a tenth of a firm bag's time. Its arrays are shared, so not to be written to.
 */
export const sew = (bag: Bag, edgeLength: number): Sewn => toEnd(sewing(bag, edgeLength));

function* sewing(bag: Bag, edgeLength: number): Work<Sewn> {
  // Neither cloth nor stance has a part in the shape, nor how a seam is pressed; everything else of the bag may. What may lie loose or stay open depends on the kinds of stances.
  const { name, note, wanted, strainLimit, materials, stacks, options, stances, seams, ...others } = bag,
    shape = { ...others, seams: seams.map(({ pressed, ...seam }) => seam) },
    kinds = stances.map((s) => [s.kind, s.kind === 'standing' && (s.ground?.forms.length ?? 0) > 0]),
    from = JSON.stringify([shape, kinds, edgeLength]);
  const known = kept.findIndex((k) => k.from === from);
  if (known >= 0) {
    kept.unshift(...kept.splice(known, 1));
    return kept[0]!.sewn;
  }
  const draft = draftPanels(bag);
  const warnings = refuseUnsewable(bag, draft);
  yield;
  const mesh = yield* meshingPanels(bag, draft, { edgeLength });
  yield;
  const placed = yield* placingPanels(bag, draft, mesh);
  const sewn = { mesh, drafted: placed.positions, pattern: toRepeat(warnings).map((f) => f.text) };
  kept.unshift({ from, sewn });
  kept.length = Math.min(kept.length, KEPT);
  return sewn;
}

/** Stuffed shapes of a mesh, by how far and with which seed: looking for crossings in both takes as long as a firm bag's assembly. */
const filledShapes = new WeakMap<BagMesh, Map<string, Float64Array>>();

/** The drafted shape with its walls `by` outward, m, but what is held; kept as long as its mesh, shared and not to be written to. Cloth has no part in it. */
function* filling({ bag, mesh, drafted, stance }: Shape, held: Uint8Array, by: number, seed: number): Work<Float64Array> {
  const known = filledShapes.get(mesh) ?? new Map<string, Float64Array>(),
    // Clips go with the mesh; what a stance holds besides is its base.
    key = `${by} ${seed} ${(stance.kind === 'standing' && stance.ground?.base) || 'free'}`,
    shape = known.get(key) ?? (yield* bulging(mesh, bag, drafted, by, seed, held));
  filledShapes.set(mesh, known.set(key, shape));
  return shape;
}

/** What a scene has whatever its cloth. */
type Shape = Pick<Scene, 'bag' | 'option' | 'stance' | 'mesh' | 'drafted' | 'pattern' | 'edgeLength' | 'seed'>;

function* equipping(shape: Shape, band: Band, drop: Drop | undefined): Work<Scene> {
  const { bag, option, stance, mesh, drafted, pattern, edgeLength, seed } = shape;
  const laminates = layUp(bag, option.name, band);
  const cloth = yield* assembling(bag, mesh, laminates, sewnLayers(bag, laminates, band), drafted, stance);
  yield;
  const start = stance.kind === 'held' ? drafted : yield* filling(shape, cloth.held, STUFFED, seed);
  const things = stance.kind === 'held' ? [] : fillBag(bag, stance, mesh, drafted, start, pullOf(stance), drop);
  const contents = things.reduce((sum, t) => sum + t.mass, stance.kind === 'held' || !stance.load ? 0 : stance.load.mass);
  yield;
  const rig = rigStraps(bag, mesh, start, stance, band, GRAVITY * cloth.mass.reduce((sum, m) => sum + m, contents));
  const strapped = withStraps(cloth, rig, stance);
  yield;
  const laid = laidClosures(bag, mesh, drafted, stance);
  const shut = withClosures(strapped, laid, stance);
  const points = Float64Array.from([...start, ...rig.extra]);
  const loaded = joinBodies(shut.model, points.subarray(0, 3 * strapped.vertexCount), things);
  return {
    bag,
    option,
    stance,
    band,
    mesh,
    laminates,
    drafted,
    rig,
    laid,
    tied: shut.tied,
    model: loaded.model,
    start: things.length > 0 ? loaded.x : points,
    pattern,
    inward: () => (stance.kind === 'standing' ? toEnd(filling(shape, cloth.held, -STUFFED, seed)) : drafted),
    thickness: laminates.map((l) => l[0]!.thickness),
    edgeLength,
    seed,
  };
}

/** A single clipped strip hangs clear of itself; whatever is sewn or stands can fold onto itself. */
export const meetsItself = ({ bag, stance, tied }: Pick<Scene, 'bag' | 'stance' | 'tied'>): boolean =>
  stance.kind !== 'held' || bag.seams.length > 0 || tied.length > 0;
