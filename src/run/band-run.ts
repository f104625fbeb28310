import { closureLines, fillDepth, hungStraps, panelMasses, slidesUnder, strapLines } from '../assembly/index.ts';
import { overhangUpright, sewnLayers } from '../material/index.ts';
import {
  balanceOf,
  draftedHeightOf,
  hungGates,
  markPositions,
  measure,
  measureHung,
  measureStrain,
  measuring,
  type Rim,
  rimOf,
  type StrainInput,
} from '../measures/index.ts';
import type { HungMeasures, MeasureInput, Measures } from '../measures/types.ts';
import { countCrossings, strapCrossings } from '../mesh/index.ts';
import { cameBackWithin, earlyWord, GONE_BELOW, heightOf, judgeBand } from '../report/index.ts';
import type { BandRun, EarlyWord } from '../report/types.ts';
import {
  activationDistance,
  bodiesAt,
  creatingSystem,
  loadsOnSheet,
  meanHeight,
  NUDGE,
  reactions,
  type System,
  standing,
  swingFourWays,
  totalForce,
  type Work,
} from '../solver/index.ts';
import { GRAVITY } from '../units/index.ts';
import { asClosed, closedOver, closuresRead, type Shut, shutting } from './closures.ts';
import { feetLoads, feetUnder } from './parts.ts';
import { Cancelled, type EarlyNews, type PreviewProgress, type Told } from './progress.ts';
import { meetsItself, type Scene } from './scene.ts';

/** What a band's run is told and asked besides its scene. */
export interface BandOptions {
  readonly skipNudge: boolean;
  /** Nudge from all four sides, whatever the linear answer says. */ readonly everyNudge: boolean;
  /** Told the word of the run once it is certain. */ readonly onWord?: ((news: EarlyNews) => unknown) | undefined;
  /** End the run there. */ readonly untilWord?: boolean;
  /** Fractions of this run alone. */ readonly told: Told<PreviewProgress>;
  /** Clock in ms. */ readonly now: () => number;
  /** ms that making the scene took. */ readonly setup: number;
}

type Stood = ReturnType<typeof standing> extends Generator<undefined, infer S, undefined> ? S : never;

/** A rim lower than this has no height to watch, m. */
const LOW = 1e-3;

/** One scene to rest, measured, and nudged where that may change the word. Throws Cancelled. */
export function* runBand(made: Scene, o: BandOptions): Work<BandRun> {
  const begun = o.now();
  // The model took its time before this, and so will the first step after it.
  yield;
  const sys = yield* creatingSystem(made.model, { selfContact: meetsItself(made) });
  const ready = o.now();
  yield;
  const shut = yield* shutting(made, sys, o),
    scene = asClosed(made, shut);
  const rim = rimOf(scene.bag, scene.mesh, scene.drafted);
  let settled = ready;
  const slides = slidesUnder(scene.stance, NUDGE);
  const watcher = wordWatcher(scene, rim, o);
  yield;
  const stood = yield* bringToRest(scene, sys, shut, rim, slides, o, watcher, () => {
    settled = o.now();
  });
  const seconds = { setup: (o.setup + ready - begun) / 1000, settle: (settled - ready) / 1000, nudge: (o.now() - settled) / 1000 };
  const read = yield* readingState(scene, sys, stood, shut, rim, slides, seconds),
    early = watcher.ended();
  const run: BandRun = early === null ? read : { ...read, status: 'notConverged', stillFalling: true, early };
  // A swing takes as long as coming to rest did: asked only where its answer may change the word.
  if (run.hung === null || rim === null || o.skipNudge || judgeBand(run).word !== 'hangs true') return run;
  return yield* swung(scene, sys, run, rim, stood.rest, o);
}

/** Brings the scene to rest as its stance asks: from the stuffed start, and for one that stands from the walls pressed in, and nudged. */
function* bringToRest(
  scene: Scene,
  sys: System,
  shut: Shut,
  rim: Rim | null,
  slides: boolean,
  o: BandOptions,
  watcher: WordWatcher,
  settled: () => void,
): Work<Stood> {
  const { stance, drafted, model, band, inward } = scene;
  const height = rim === null || stance.kind === 'hung' ? 0 : meanHeight(drafted, rim.verts);
  const stood = yield* standing(sys, shut.start, {
    ...(rim !== null && height > LOW ? { watch: { verts: rim.verts, height } } : {}),
    // Things in the bag say how it is filled: only an empty or loosely filled one is asked again with its walls pressed in.
    ...(stance.kind === 'standing' && !model.bodies && scene.tied.length === 0 ? { inward } : {}),
    // What a nudge would slide along its table says nothing of its walls.
    nudge: stance.kind === 'standing' && !o.skipNudge && !slides,
    everyNudge: o.everyNudge,
    cameBack: cameBackWithin(draftedHeightOf({ ...scene, stance: stance.kind })),
    settled,
    lowered: watcher.lowered,
    progress: (stage, fraction, positions) => o.told({ band, stage, fraction, positions }) !== false,
  });
  if (stood.rest.cancelled && watcher.ended() === null) throw new Cancelled();
  return stood;
}

interface WordWatcher {
  /** Told of every state on a path that only loses energy; false ends the run. */ readonly lowered: (kept: number, x: Float64Array) => boolean;
  /** The word that ended the run, or null. */ readonly ended: () => EarlyWord | null;
}

/** How much lower a bag must lie before its word is asked again. */
const LOWER = 0.03;

/** Asks for the word of a bag on its way down, as seldom as will do, and tells it once. */
function wordWatcher(scene: Scene, rim: Rim | null, o: BandOptions): WordWatcher {
  let shape: ReturnType<typeof measureInput> | undefined;
  const asked = scene.stance.kind === 'standing' && rim !== null && (o.untilWord || o.onWord);
  let below = GONE_BELOW,
    word: EarlyWord | null = null;
  const lowered = (kept: number, x: Float64Array): boolean => {
    if (!asked || word !== null || kept >= below) return true;
    below = kept - LOWER;
    shape ??= measureInput(scene);
    const { measures, hasBase } = measure({ ...shape, settled: x.slice(0, 3 * scene.mesh.vertexCount) });
    word = earlyWord(measures, hasBase);
    if (word === null) return true;
    o.onWord?.({ band: scene.band, word, heightKept: measures.heightKept!, positions: x });
    return !o.untilWord;
  };
  return { lowered, ended: () => (o.untilWord ? word : null) };
}

/** Everything that is read off the state at rest. */
function* readingState(scene: Scene, sys: System, stood: Stood, shut: Shut, rim: Rim | null, slides: boolean, seconds: BandRun['seconds']): Work<BandRun> {
  const { mesh, stance, model, band } = scene;
  const all = stood.rest.x,
    x = all.slice(0, 3 * mesh.vertexCount);
  const { formulation } = stood.rest;
  const force = reactions(sys, all, formulation),
    table = totalForce(force.supports);
  const shape = measureInput(scene);
  yield;
  const { measures, panels, hasBase } = yield* measuring({ ...shape, settled: x });
  yield;
  const hung = stance.kind === 'hung' ? measureHung(hungInput(scene, sys, all, x, table)) : null;
  const contents = bodiesAt(model, all);
  const { x: pushed, height, ran, differs } = stood.inward,
    { left, ...touched } = stood.nudge;
  /** What is judged of another rest of the same bag. */
  function* judged(y: Float64Array | null): Work<Measures | null> {
    return y && (yield* measuring({ ...shape, settled: y.slice(0, 3 * mesh.vertexCount) })).measures;
  }
  const leftBehind = left ? { left: yield* judged(left) } : {};
  const pushedIn = yield* judged(pushed);
  yield;
  const strain = x.every(Number.isFinite) ? measureStrain(strainInput(scene, sys.el.strain, hung)) : null;
  yield;
  const crossings = countCrossings(x, mesh.triVerts) + strapCrossings(all, mesh.triVerts, model.cables?.contactEdges ?? []);
  yield;
  return {
    band,
    status: stood.rest.status,
    residual: stood.rest.residual,
    iterations: stood.rest.iterations,
    factorisations: stood.rest.factorisations,
    seconds,
    stable: stood.rest.stable,
    stillFalling: stood.rest.stillFalling,
    arcs: formulation === 'arc-corrected',
    measures: { ...(hung === null ? measures : { ...measures, ...hungGates(hung, rim && meanHeight(scene.drafted, rim.verts)) }), ...shut.gates },
    panels,
    hasBase,
    nudge: { ...touched, ...(slides ? { slides: true } : {}), ...leftBehind },
    inward: { ran, heightKept: height, differs, measures: pushedIn },
    balance:
      // What is glued or hinged to its table does not tip over on it.
      stance.kind === 'standing' && (stance.ground?.base ?? 'free') === 'free' && stood.rest.status === 'settled'
        ? balanceOf(x, model.mass, model.load ?? null, fillDepth(stance.load, scene.drafted), GRAVITY, contents, feetUnder(scene))
        : null,
    strain,
    hung,
    ...(scene.laid.length > 0 ? { closures: closuresRead(scene, sys, shut, x), closureLines: closureLines(scene.laid, x), ...closedOver(scene) } : {}),
    straps: strapLines(scene.rig, all),
    contents,
    positions: x,
    cloth: {
      strain: sys.el.strain.slice(),
      stress: sys.el.stress.slice(),
      felt: meetsItself(scene) ? activationDistance(model) : null,
      touches: model.supports.map((s) => ({ name: s.name, shape: s.sdf, offset: s.offset })),
    },
    marks: markPositions(mesh, x),
    reactions: { table, held: totalForce(force.held) },
    ...(scene.bag.hardware && stance.kind === 'standing' ? { feet: feetLoads(scene, sys.contact.force, x) } : {}),
    contact: {
      touching: sys.contact.touching,
      deepestPenetration: sys.contact.deepest,
      crossings,
    },
  };
}

/** The hung run with what is left of a swing's movement at its mouth. Throws Cancelled. */
function* swung(scene: Scene, sys: System, run: BandRun, rim: Rim, rest: Stood['rest'], o: BandOptions): Work<BandRun> {
  const begun = o.now();
  let cancelled = false;
  const left = yield* swingFourWays(sys, rest, rim.verts, (stage, fraction, positions) => {
    cancelled ||= o.told({ band: scene.band, stage, fraction, positions }) === false;
    return !cancelled;
  });
  if (cancelled) throw new Cancelled();
  return {
    ...run,
    seconds: { ...run.seconds, nudge: (o.now() - begun) / 1000 },
    nudge: {
      ...run.nudge,
      tested: left !== null,
      comesBack: left !== null && left < cameBackWithin(heightOf(run)),
      worstShift: left ?? Number.POSITIVE_INFINITY,
    },
  };
}

function measureInput({ bag, mesh, drafted, stance, laminates, band }: Scene): Omit<MeasureInput, 'settled'> {
  return {
    bag,
    mesh,
    drafted,
    stance: stance.kind,
    overhangs: laminates.map((l, p) => overhangUpright(l[0]!, bag.panels[p]!)),
    panelMass: panelMasses(bag, mesh, laminates, sewnLayers(bag, laminates, band)),
  };
}

const hungInput = (scene: Scene, sys: System, all: Float64Array, x: Float64Array, support: [number, number, number]): Parameters<typeof measureHung>[0] => ({
  bag: scene.bag,
  mesh: scene.mesh,
  drafted: scene.drafted,
  settled: x,
  mass: scene.model.mass.subarray(0, scene.model.bodies?.[0]?.at),
  load: loadsOnSheet(sys, x.length),
  span: scene.rig.span,
  axis: scene.rig.axis,
  straps: hungStraps(scene.rig, scene.mesh, scene.start, all, sys.el.cables?.tension ?? new Float64Array(0)),
  support,
});

const strainInput = ({ bag, mesh, model, rig }: Scene, strain: Float64Array, hung: HungMeasures | null): StrainInput => ({
  mesh,
  rest: model.triRest,
  stretch: model.triStretch,
  strain,
  straps: (hung?.straps ?? []).map(({ name, tension }) => ({ name, strain: tension / rig.straps.find((s) => s.strap.name === name)!.stiffness })),
  ...(bag.strainLimit === undefined ? {} : { stated: bag.strainLimit }),
});
