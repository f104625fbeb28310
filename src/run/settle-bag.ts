import { assemble, fillBag, hungStraps, panelMasses, pullOf, type Rig, rigStraps, seamsOf, slidesUnder, strapLines, withStraps } from '../assembly/index.ts';
import { type Bag, BagError, type BagOption, type Stance } from '../bag/types.ts';
import { type BagLaminates, type Band, layUp, overhangUpright, sewnLayers, stitchingOf, stitchReference, weakest } from '../material/index.ts';
import { balanceOf, hungGates, markPositions, measure, measureHung, measureStrain, type Rim, rimOf, type StrainInput } from '../measures/index.ts';
import type { HungMeasures } from '../measures/types.ts';
import { countCrossings, meshPanels, strapCrossings } from '../mesh/index.ts';
import type { BagMesh } from '../mesh/types.ts';
import { draftPanels } from '../panels/index.ts';
import { bulge, placePanels } from '../placement/index.ts';
import { judge, judgeBand } from '../report/index.ts';
import type { BandRun, PatchStitching, Placed, Result } from '../report/types.ts';
import {
  CAME_BACK,
  createFall,
  createSystem,
  type Drop,
  type Fall,
  joinBodies,
  meanHeight,
  NUDGE,
  poseAt,
  reactions,
  type System,
  standing,
  swingFourWays,
  toEnd,
  type Work,
} from '../solver/index.ts';
import type { Model, Progress } from '../solver/types.ts';
import { GRAVITY } from '../units/index.ts';

/** Edge length used when none is asked for, m: about 2000 vertices for a tote of 300 x 240 x 100 mm. */
export const DEFAULT_EDGE = 0.0118;
/** Edge lengths that bags are meshed with, m. */
export const EDGE_RANGE = { from: 5e-4, to: 0.1 } as const;
/** Outward bulge of the stuffed start, m; 1 to 8 mm end in the same state (measured). */
export const STUFFED = 0.004;
/** Of the start's small waviness, unless another is asked for. */
export const SEED = 1;

export interface SceneOptions {
  /** Option name; default the file's first. */ readonly option?: string;
  /** Stance name; default the file's first. */ readonly stance?: string;
  readonly band?: Band;
  /** m */ readonly edgeLength?: number;
  /** How rigid contents are let fall: solver/rigid.ts. Left to the caller because the page loads it only when a bag has any. */ readonly drop?: Drop;
  /** Of the start's small waviness; default 1. Another seed asks whether the verdict hangs on it. */ readonly seed?: number;
}

export interface PreviewOptions extends SceneOptions {
  /** Default low, mid, high. */ readonly bands?: readonly Band[];
  /** Told the stage ("mid: settling"), how far it can still go (0..1), and the positions; return false to cancel. */ readonly onProgress?: Progress;
  /** A clock in ms, for the `seconds` of the result only; without it they are 0. */ readonly now?: () => number;
  /** Skip the nudge test (a quick look). Default false. */ readonly skipNudge?: boolean;
}

/** Thrown when onProgress asked to stop; nothing of the run is returned. */
export class Cancelled extends Error {
  constructor() {
    super('cancelled');
    this.name = 'Cancelled';
  }
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
  /** 3n stuffed start, then the straps' own points */ readonly start: Float64Array;
  /** 3n start pressed inward */ readonly inward: Float64Array;
  /** Per panel, m */ readonly thickness: readonly number[];
}

function named<T extends { readonly name: string }>(list: readonly T[], name: string | undefined, what: string): T {
  const found = name === undefined ? list[0] : list.find((o) => o.name === name);
  if (found) return found;
  throw new BagError([{ path: `${what}s`, got: JSON.stringify(name), expected: `one of ${list.map((o) => `"${o.name}"`).join(', ')}` }]);
}

/** Drafts, meshes, lays up and assembles. Throws BagError for an unknown option or stance. Deterministic. */
export function prepareScene(bag: Bag, o: SceneOptions = {}): Scene {
  const option = named(bag.options, o.option, 'option');
  const stance = named(bag.stances, o.stance, 'stance');
  const edgeLength = o.edgeLength ?? DEFAULT_EDGE;
  if (!(edgeLength >= EDGE_RANGE.from && edgeLength <= EDGE_RANGE.to))
    throw new BagError([{ path: 'mesh', got: `${edgeLength * 1000} mm`, expected: 'an edge length of 0.5 to 100 mm' }]);
  const { mesh, drafted } = sew(bag, edgeLength);
  return equip(bag, option, stance, o.band ?? 'mid', mesh, drafted, o);
}

/** A sewn, undeformed shape. */
export interface Sewn {
  readonly mesh: BagMesh;
  /** 3n, m */ readonly drafted: Float64Array;
}

/** The shape sewn last, and what it was sewn from. */
let last: { readonly from: string; readonly sewn: Sewn } | undefined;

/**
 * The sewn, undeformed shape alone: what an edit of the pattern shows before anything is settled. Deterministic. What the last call sewed is kept: a bag is asked for with one
 * cloth after another, and at 2041 points meshing and placing are a tenth of a firm bag's time. Its arrays are shared, so not to be written to.
 */
export function sew(bag: Bag, edgeLength: number): Sewn {
  // Neither cloth nor stance has a part in the shape; everything else of the bag may.
  const { name, note, wanted, strainLimit, materials, stacks, options, stances, ...shape } = bag,
    from = JSON.stringify([shape, edgeLength]);
  if (last?.from === from) return last.sewn;
  const draft = draftPanels(bag),
    mesh = meshPanels(bag, draft, { edgeLength }),
    sewn = { mesh, drafted: placePanels(bag, draft, mesh).positions };
  last = { from, sewn };
  return sewn;
}

/** Stuffed shapes of a mesh, by how far and with which seed: looking for crossings in both takes as long as a firm bag's assembly. */
const filledShapes = new WeakMap<BagMesh, Map<string, Float64Array>>();

/** The drafted shape with its walls `by` outward, m; kept as long as its mesh, shared and not to be written to. Cloth has no part in it. */
export function filled(bag: Bag, mesh: BagMesh, drafted: Float64Array, by: number, seed: number): Float64Array {
  const known = filledShapes.get(mesh) ?? new Map<string, Float64Array>(),
    key = `${by} ${seed}`,
    shape = known.get(key) ?? bulge(mesh, bag, drafted, by, seed);
  filledShapes.set(mesh, known.set(key, shape));
  return shape;
}

/** The same shape with another cloth: what changes between bands and options. */
function equip(bag: Bag, option: BagOption, stance: Stance, band: Band, mesh: BagMesh, drafted: Float64Array, o: SceneOptions): Scene {
  const seed = o.seed ?? SEED;
  const laminates = layUp(bag, option.name, band);
  const standing = stance.kind === 'standing';
  const stuffed = (by: number) => (stance.kind === 'held' ? drafted : filled(bag, mesh, drafted, by, seed));
  const start = stuffed(STUFFED);
  const cloth = assemble(bag, mesh, laminates, sewnLayers(bag, laminates, band), drafted, stance);
  const things = stance.kind === 'held' ? [] : fillBag(bag, stance, mesh, drafted, start, pullOf(stance), o.drop);
  const contents = things.reduce((sum, t) => sum + t.mass, stance.kind === 'held' || !stance.load ? 0 : stance.load.mass);
  const rig = rigStraps(bag, mesh, start, stance, band, GRAVITY * cloth.mass.reduce((sum, m) => sum + m, contents));
  const strapped = withStraps(cloth, rig, stance);
  const points = Float64Array.from([...start, ...rig.extra]);
  const loaded = joinBodies(strapped, points.subarray(0, 3 * strapped.vertexCount), things);
  return {
    bag,
    option,
    stance,
    band,
    mesh,
    laminates,
    drafted,
    rig,
    model: loaded.model,
    start: things.length > 0 ? loaded.x : points,
    inward: standing ? stuffed(-STUFFED) : drafted,
    thickness: laminates.map((l) => l[0]!.thickness),
  };
}

/** A single clipped strip hangs clear of itself; whatever is sewn or stands can fold onto itself. */
export const settlesOnItself = (bag: Bag, stance: Stance): boolean => stance.kind !== 'held' || bag.seams.length > 0;
const meetsItself = ({ bag, stance }: Scene): boolean => settlesOnItself(bag, stance);

/** The scene in motion, for watching, a step in a third of the time: plain triangles, without the arcs that a settle ends with. */
export const fall = (scene: Scene): Fall => createFall(scene.model, scene.start, { selfContact: meetsItself(scene), formulation: 'plain' });

/** The carrying straps of a scene at x (all its points), for drawing: the start's, or those of a fall. */
export const strapsAt = (scene: Scene, x: Float64Array): BandRun['straps'] => strapLines(scene.rig, x);

/**
 * The way of a parsed bag: Bag -> verdict with its reasons. One option, one stance, one to three ends of the band; in steps, for whoever must look up
 * in between (solver/work.ts).
 * Throws BagError for bad input, Cancelled when onProgress returned false. Same input, same numbers (apart from `seconds`).
 */
export function* settlingBag(bag: Bag, o: PreviewOptions = {}): Work<Result> {
  const now = o.now ?? (() => 0);
  const begun = now();
  const scene = prepareScene(bag, { ...o, band: 'mid' });
  const shared = now() - begun;
  const bands = o.bands ?? (['low', 'mid', 'high'] as const);
  const runs: BandRun[] = [];
  for (const [i, band] of bands.entries()) runs.push(yield* runBand(scene, band, o, now, shared, i / bands.length, 1 / bands.length));
  const mid = scene.laminates;
  const layerCount = (p: number, r: number): number => {
    const stack = bag.stacks.find((s) => s.name === mid[p]![r]!.stack);
    return stack?.kind === 'layers' ? stack.layers.length : 1;
  };
  return {
    bag: bag.name,
    option: scene.option.name,
    stance: scene.stance.name,
    ground: (scene.stance.kind === 'standing' && scene.stance.ground) || null,
    vertices: scene.mesh.vertexCount,
    massKg: clothMass(scene.model),
    evidence: weakest(mid.flat().map((l) => l.evidence)),
    stacks: mid.flatMap((list, p) =>
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
    seams: seamsOf(bag, scene.mesh, mid, layerCount),
    ...patchStitching(scene),
    mesh: scene.mesh,
    drafted: scene.drafted,
    runs,
    verdict: judge(runs, bag.wanted),
  };
}

/** What the stitching of the carrying straps' ends comes to, where the file states their thread. */
function patchStitching({ bag, stance }: Scene): Pick<Result, 'stitching'> {
  if (stance.kind !== 'hung') return {};
  const stitching = bag.straps.flatMap((strap): PatchStitching[] => {
    const s = stitchingOf(strap),
      [one, two] = strap.anchors;
    return s && stance.straps.includes(strap.name) ? [{ strap: strap.name, ...s, anchors: [stitchReference(one, s), stitchReference(two, s)] }] : [];
  });
  return stitching.length > 0 ? { stitching } : {};
}

/** The same at one go. */
export const settleBag = (bag: Bag, o: PreviewOptions = {}): Result => toEnd(settlingBag(bag, o));

function* runBand(base: Scene, band: Band, o: PreviewOptions, now: () => number, shared: number, from: number, share: number): Work<BandRun> {
  const begun = now();
  const { bag, mesh, drafted } = base;
  const scene = band === base.band ? base : equip(bag, base.option, base.stance, band, mesh, drafted, o);
  const sys = createSystem(scene.model, { selfContact: meetsItself(scene) });
  const ready = now();
  const rim = rimOf(bag, mesh, drafted);
  const watch = scene.stance.kind !== 'hung' && rim && { verts: rim.verts, height: meanHeight(drafted, rim.verts) };
  let settled = ready;
  // What a nudge would slide along its table says nothing of its walls.
  const slides = slidesUnder(scene.stance, NUDGE);
  const stood = yield* standing(sys, scene.start, {
    ...(watch && watch.height > 1e-3 ? { watch } : {}),
    // Things in the bag say how it is filled: only an empty or loosely filled one is asked again with its walls pressed in.
    ...(scene.stance.kind === 'standing' && !scene.model.bodies ? { inward: scene.inward } : {}),
    nudge: scene.stance.kind === 'standing' && !o.skipNudge && !slides,
    settled: () => {
      settled = now();
    },
    progress: (stage, fraction, x) => o.onProgress?.(`${band}: ${stage}`, from + share * fraction, x),
  });
  if (stood.rest.cancelled) throw new Cancelled();
  const done = now();
  const all = stood.rest.x;
  const { formulation } = stood.rest;
  const x = all.slice(0, 3 * mesh.vertexCount);
  const force = reactions(sys, all, formulation);
  const shape = {
    bag,
    mesh,
    drafted,
    stance: scene.stance.kind,
    overhangs: scene.laminates.map((l, p) => overhangUpright(l[0]!, bag.panels[p]!)),
    panelMass: panelMasses(bag, mesh, scene.laminates, sewnLayers(bag, scene.laminates, band).allowances),
  };
  const { measures, panels, hasBase } = measure({ ...shape, settled: x });
  const { x: pushed, ...inward } = stood.inward;
  const hung =
    scene.stance.kind === 'hung'
      ? measureHung({
          bag,
          mesh,
          drafted,
          settled: x,
          mass: scene.model.mass.subarray(0, scene.model.bodies?.[0]?.at),
          load: pressOf(scene.model, sys, x.length),
          span: scene.rig.span,
          axis: scene.rig.axis,
          straps: hungStraps(scene.rig, mesh, scene.start, all, sys.el.cables?.tension ?? new Float64Array(0)),
          support: total(force.supports),
        })
      : null;
  const run: BandRun = {
    band,
    status: stood.rest.status,
    residual: stood.rest.residual,
    iterations: stood.rest.iterations,
    factorisations: stood.rest.factorisations,
    seconds: { setup: (shared + ready - begun) / 1000, settle: (settled - ready) / 1000, nudge: (done - settled) / 1000 },
    stable: stood.rest.stable,
    stillFalling: stood.rest.stillFalling,
    arcs: formulation === 'arc-corrected',
    measures: hung === null ? measures : { ...measures, ...hungGates(hung, watchHeight(rim, drafted)) },
    panels,
    hasBase,
    nudge: slides ? { ...stood.nudge, slides } : stood.nudge,
    inward: {
      ran: inward.ran,
      heightKept: inward.height,
      differs: inward.differs,
      measures: pushed && measure({ ...shape, settled: pushed.slice(0, 3 * mesh.vertexCount) }).measures,
    },
    balance:
      // What is glued or hinged to its table does not tip over on it.
      scene.stance.kind === 'standing' && (scene.stance.ground?.base ?? 'free') === 'free' && stood.rest.status === 'settled'
        ? balanceOf(x, scene.model.mass, scene.model.load ?? null, fillDepth(scene), GRAVITY, contentsOf(scene.model, all))
        : null,
    strain: x.every(Number.isFinite) ? measureStrain(strainInput(scene, x, hung)) : null,
    hung,
    straps: strapLines(scene.rig, all),
    contents: contentsOf(scene.model, all),
    positions: x,
    marks: markPositions(mesh, x),
    reactions: { table: total(force.supports), held: total(force.held) },
    contact: {
      touching: sys.contact.touching,
      deepestPenetration: sys.contact.deepest,
      crossings: countCrossings(x, mesh.triVerts) + strapCrossings(all, mesh.triVerts, scene.model.cables?.contactEdges ?? []),
    },
  };
  // A swing takes as long as coming to rest did: asked only where its answer may change the word.
  if (hung === null || rim === null || o.skipNudge || judgeBand(run).word !== 'holds') return run;
  const begunSwing = now();
  let cancelled = false;
  const left = yield* swingFourWays(sys, stood.rest, rim.verts, (stage, fraction, at) => {
    cancelled ||= o.onProgress?.(`${band}: ${stage}`, from + share * fraction, at) === false;
    return !cancelled;
  });
  if (cancelled) throw new Cancelled();
  return {
    ...run,
    seconds: { ...run.seconds, nudge: (now() - begunSwing) / 1000 },
    nudge: { ...run.nudge, tested: left !== null, comesBack: left !== null && left < CAME_BACK, worstShift: left ?? Number.POSITIVE_INFINITY },
  };
}

const strainInput = ({ bag, mesh, model, rig }: Scene, settled: Float64Array, hung: HungMeasures | null): StrainInput => ({
  mesh,
  rest: model.triRest,
  stretch: model.triStretch,
  settled,
  straps: (hung?.straps ?? []).map(({ name, tension }) => ({ name, strain: tension / rig.straps.find((s) => s.strap.name === name)!.stiffness })),
  ...(bag.strainLimit === undefined ? {} : { stated: bag.strainLimit }),
});

/** Mass of cloth and straps, kg: contents are not part of the bag. */
const clothMass = ({ mass, bodies }: Model): number => mass.subarray(0, bodies?.[0]?.at ?? mass.length).reduce((s, m) => s + m, 0);

/** The rigid contents where they lie. */
const contentsOf = ({ bodies, mass }: Model, x: Float64Array): Placed[] =>
  (bodies ?? []).map((b) => ({ name: b.name, mass: mass[b.at]!, shape: b.shape, offset: b.offset, ...poseAt(b, x) }));

/** Forces of loose and rigid contents on the sheet, N (3n); null where there are none. */
function pressOf(model: Model, sys: System, length: number): Float64Array | null {
  if (!model.load && !sys.bodies) return null;
  const out = new Float64Array(length);
  for (let i = 0; i < length; i++) out[i] = (model.load?.[i] ?? 0) + (sys.bodies?.onSheet[i] ?? 0);
  return out;
}

/** Depth of the contents over the lowest point, m; see assembly/load.ts. */
function fillDepth({ stance, drafted }: Scene): number {
  if (stance.kind === 'held' || !stance.load) return 0;
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 2; i < drafted.length; i += 3) [low, high] = [Math.min(low, drafted[i]!), Math.max(high, drafted[i]!)];
  return stance.load.fill * (high - low);
}

const watchHeight = (rim: Rim | null, x: Float64Array): number | null => (rim === null ? null : meanHeight(x, rim.verts));

function total(f: Float64Array): [number, number, number] {
  const out: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < f.length; i++) out[i % 3]! += f[i]!;
  return out;
}
