import {
  type Bag,
  BagError,
  compiledKernels,
  type EarlyNews,
  fall,
  type PreviewProgress,
  prepareScene,
  settlingBag,
  takeKernels,
  type Unchecked,
  weigh,
} from '../core.ts';
import { bulkiest } from './bulkiest.ts';
import type { Ask, Kernels, Say, Stop, Weight } from './solver-protocol.ts';
import { dropFor, framed, lookUp, pause, startOf } from './worker-timing.ts';

/** Simulated time of the live fall, s: long enough for a wall to fold, short enough to wait for. */
const FALL_SECONDS = 2.5;
const STEP = 1 / 60;
/** Slower than this everywhere, the fall has nothing more to show, m/s. */
const STILL = 0.01;

type Words = Say extends infer S ? (S extends Say ? Omit<S, 'job'> : never) : never;

function teller(job: number): (words: Words, transfer?: Transferable[]) => void {
  return (words, transfer = []) => self.postMessage({ job, ...words }, { transfer });
}

/** A worker looks up from its settle this often, ms. */
const LOOK_UP = 60;
/** Are the kernels the page's already? */
let shared = false;
/** The job last told to be dropped. */
let stopped = 0;

/** Streams the fall at the pace of real time, or as fast as this machine steps if that is slower; ends early where the job is dropped. */
async function watchFall(ask: Ask, edge: number, tell: ReturnType<typeof teller>): Promise<void> {
  const scene = prepareScene(ask.bag, { option: ask.option, band: 'mid', stance: ask.stance, edgeLength: edge, ...(await dropFor(ask.bag, ask.stance)) });
  tell({ kind: 'mesh', ...startOf(scene) });
  tell({ kind: 'stage', stage: { step: 'falling', detail: '', band: null } });
  const falling = fall(scene);
  const begun = performance.now();
  for (let n = 1; n * STEP <= FALL_SECONDS; n++) {
    const { x, speed } = falling.step();
    const { frame, buffers } = framed(scene, x);
    tell({ kind: 'frame', ...frame, seconds: n * STEP }, buffers);
    if (stopped === ask.job || (n * STEP > 0.4 && speed < STILL)) break;
    await pause(Math.max(0, begun + n * STEP * 1000 - performance.now()));
  }
}

/** Nothing in it and nothing settled: a coarse mesh weighs what a fine one does. */
function weights({ bag, edgeLength }: Ask, options: readonly string[]): Readonly<Record<string, Weight>> {
  const empty = { ...bag.stances[0], load: null, contents: undefined } as Bag['stances'][number];
  const emptied = { ...bag, stances: [empty] };
  return Object.fromEntries(
    options.flatMap((option) => {
      try {
        const { massKg, seams } = weigh(prepareScene(emptied, { option, band: 'mid', edgeLength }));
        return [[option, { massKg, bulk: bulkiest(seams) }]];
      } catch (error) {
        // What cannot be sewn is told by its settle.
        if (error instanceof BagError) return [];
        throw error;
      }
    }),
  );
}

async function run(ask: Ask): Promise<void> {
  const tell = teller(ask.job);
  try {
    if (ask.weigh) return tell({ kind: 'weights', weights: weights(ask, ask.weigh) });
    tell({ kind: 'stage', stage: { step: 'drafting', detail: '', band: null } });
    if (!shared) tellKernels(tell);
    if (ask.fallEdge !== null) await watchFall(ask, ask.fallEdge, tell);
    tell({ kind: 'stage', stage: { step: 'settling', detail: '', band: null } });
    let told = '';
    const onProgress = ({ band, stage }: PreviewProgress): void => {
      const now = `${band} ${stage}`;
      if (now === told) return;
      told = now;
      tell({ kind: 'stage', stage: { step: 'settling', detail: stage, band } });
    };
    const onWord = ({ band, word, heightKept }: EarlyNews): void => tell({ kind: 'word', band, word, heightKept });
    const onUnchecked = (news: Unchecked): void => tell({ kind: 'unchecked', ...news });
    const { option, stance, bands, edgeLength } = ask;
    const work = settlingBag(ask.bag, {
      option,
      stance,
      bands,
      edgeLength,
      onWord,
      onUnchecked,
      onProgress,
      now: () => performance.now(),
      ...(await dropFor(ask.bag, ask.stance)),
    });
    // Looked up from before anything is meshed: it may have been told to stop at once.
    for (let looked = Number.NEGATIVE_INFINITY; ; ) {
      if (performance.now() - looked > LOOK_UP) {
        await lookUp();
        if (stopped === ask.job) return tell({ kind: 'stopped' });
        looked = performance.now();
      }
      const step = work.next();
      if (step.done) return tell({ kind: 'result', result: step.value });
    }
  } catch (error) {
    if (error instanceof BagError) tell({ kind: 'faults', faults: error.faults });
    else tell({ kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
}

/** Compiling costs each worker some tens of milliseconds: what one has, the next is given. */
function tellKernels(tell: ReturnType<typeof teller>): void {
  shared = true;
  const kernels = compiledKernels();
  if (kernels !== null) tell({ kind: 'kernels', kernels: kernels as WebAssembly.Module });
}

self.onmessage = ({ data }: MessageEvent<Ask | Stop | Kernels>) => {
  if ('kernels' in data) {
    shared = true;
    takeKernels(data.kernels);
  } else if ('stop' in data) stopped = data.stop;
  else void run(data);
};
