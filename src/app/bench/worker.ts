import {
  BagError,
  besidePublished,
  type ComparedCloth,
  compareCloths,
  createFall,
  type DrapedCloth,
  drapedCloth,
  fromStrips,
  materialBands,
  ownMaterialForm,
  parseReadings,
  type SwatchResult,
  swatchMaterial,
  swatchNotes,
  swatchTest,
  type Three,
  twistFromBias,
} from './core.ts';
import { type Ask, FRAME, type OwnFigures, type Piece, type Reading, type Say, type TestAsk } from './protocol.ts';

type Model = SwatchResult['model'];
type Words = Say extends infer S ? (S extends Say ? Omit<S, 'job'> : never) : never;
type Tell = (words: Words) => void;

/** Longest fall shown, s, and the air's drag on it, 1/s: a held strip swings on for longer than anyone wants to watch. */
const FALL_SECONDS = 1.5;
const DRAG = 6;
/** At most so many of the solver's steps are sent; a settling of thousands would only fill the page's queue. */
const MOST_STEPS = 400;

/** Vertices' places in the flat piece from the triangles' rest shapes, which lie in the warp's frame: turned back by the cut. */
function flatOf(model: Model, cut: number): Float32Array {
  const flat = new Float32Array(2 * model.vertexCount);
  const [c, s] = [Math.cos(cut), Math.sin(cut)];
  model.triVerts.forEach((v, corner) => {
    const [a, b] = [model.triRest[2 * corner], model.triRest[2 * corner + 1]];
    flat[2 * v] = c * a + s * b;
    flat[2 * v + 1] = -s * a + c * b;
  });
  return flat;
}

const pieceOf = (model: Model, cut: number, start: Float64Array): Piece => ({
  triVerts: model.triVerts.slice(),
  flat: flatOf(model, cut),
  start: Float32Array.from(start),
});

function runTest(ask: TestAsk, tell: Tell): void {
  // The disc's folds are one of several that can rest: what is shown must be the way to the one that is read.
  const stepwise = ask.watch && ask.test === 'drape';
  let first: { model: Model; start: Float64Array } | null = null;
  let count = 0;
  const result = swatchTest(ask.test, {
    sheet: ask.sheet,
    mesh: ask.mesh,
    kind: ask.kind,
    cut: ask.cut,
    length: ask.length ?? undefined,
    onStart: (model, start) => {
      first ??= { model, start: start.slice() };
      if (stepwise) tell({ kind: 'piece', piece: pieceOf(model, ask.cut, start) });
    },
    onProgress: (_stage, _fraction, x) => {
      count++;
      if (stepwise && count <= MOST_STEPS) tell({ kind: 'step', x: Float32Array.from(x), count });
      return undefined;
    },
  });
  const { model, x, ...figures } = result;
  const begun = first as { model: Model; start: Float64Array } | null;
  const reading: Reading = { ...figures, beside: [...swatchNotes({ sheet: ask.sheet, cut: ask.cut }, result), ...besidePublished(result, ask.preset)] };
  tell({ kind: 'result', reading, piece: pieceOf(model, ask.cut, begun?.start ?? x), x: Float32Array.from(x) });
  if (ask.watch && !stepwise && begun && begun.model.vertexCount === model.vertexCount) fallTo(model, begun.start, x, tell);
  tell({ kind: 'fall', x: null });
}

/** Lets the piece go with its real masses, until it lies still where the test's own settling found it to rest. */
function fallTo(model: Model, start: Float64Array, rest: Float64Array, tell: Tell): void {
  const fall = createFall(model, start, { iterations: 2, drag: DRAG });
  const size = Math.max(...model.triRest) - Math.min(...model.triRest);
  for (let t = 0; t < FALL_SECONDS; t += FRAME) {
    const { x, speed } = fall.step(FRAME);
    if (!Number.isFinite(speed)) return;
    tell({ kind: 'fall', x: Float32Array.from(x) });
    let far = 0;
    for (let i = 0; i < x.length; i++) far = Math.max(far, Math.abs(x[i] - rest[i]));
    // Still for a moment at the end of a swing is not at rest: it has to be there as well.
    if (speed < 0.02 && far < 0.01 * size) return;
  }
}

function ownFigures(text: string): OwnFigures {
  const readings = parseReadings(text);
  const own = swatchMaterial(readings);
  const of = (name: 'warp' | 'weft' | 'bias'): Three | null => own.directions.find((d) => d.direction === name)?.rigidity ?? null;
  const [warp, weft, bias] = [of('warp') as Three, of('weft') as Three, of('bias')];
  const nu = materialBands(readings.like)?.poisson ?? 0;
  const D = ([0, 1, 2] as const).map((i) => fromStrips(warp[i], weft[i], nu, 1));
  // Each end of the band by itself; where the three strips' ends do not fit together there is no twist to show.
  const twist = ([0, 1, 2] as const).map((i) => (bias ? twistFromBias(D[i][0], D[i][1], D[i][2], bias[i]) : null));
  return {
    arealMass: own.arealMass,
    massError: own.massError,
    directions: own.directions.map(({ direction, count, rigidity, overhang, error }) => ({ direction, count, rigidity, overhang, error })),
    D11: D.map((q) => q[0]) as unknown as Three,
    D22: D.map((q) => q[1]) as unknown as Three,
    D66: own.bending === null ? null : [twist[0], own.bending[3], twist[2]],
    warnings: own.warnings,
    fused: readings.fused,
    form: ownMaterialForm(own),
  };
}

/** Pieces are told as they come to rest, and in between how far the next one is. */
function drapeEach(cloths: readonly ComparedCloth[], tell: Tell): void {
  const done: DrapedCloth[] = [];
  for (const cloth of cloths) {
    let steps = 0;
    done.push(
      drapedCloth(cloth, undefined, () => {
        if (++steps % 10 === 1) tell({ kind: 'draped', cloths: done, steps, whole: false });
        return undefined;
      }),
    );
    tell({ kind: 'draped', cloths: done, steps: 0, whole: done.length === cloths.length });
  }
}

self.onmessage = (event: MessageEvent<Ask>) => {
  const ask = event.data;
  const tell: Tell = (words) => self.postMessage({ job: ask.job, ...words });
  try {
    if (ask.what === 'test') runTest(ask, tell);
    else if (ask.what === 'side') tell({ kind: 'side', made: compareCloths(ask.cloths, ask.length, ask.unit, ask.program) });
    else if (ask.what === 'drapes') drapeEach(ask.cloths, tell);
    else tell({ kind: 'own', own: ownFigures(ask.text) });
  } catch (error) {
    if (error instanceof BagError) tell({ kind: 'faults', faults: error.faults });
    else tell({ kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
};
