import { BagError, fall, prepareScene, type Scene } from '../core.ts';
import { dropFor, framed, pause, startOf } from '../line-up/worker-timing.ts';
import type { Say, Tell } from './protocol.ts';

const STEP = 1 / 60;
/** Slower than this everywhere, nothing moves, m/s. */
const STILL = 0.002;

type Motion = ReturnType<typeof fall>;

const tell = (say: Say, transfer: Transferable[] = []): void => self.postMessage(say, { transfer });

let motion: Motion | null = null;
let scene: Scene | null = null;
let running = false;
/** Told to halt: then a hand moves nothing until it is told to go on. */
let halted = false;
let looping = false;
let seconds = 0;

function step(): boolean {
  const begun = performance.now();
  const { x, speed } = motion!.step(STEP);
  seconds += STEP;
  const still = seconds > 0.3 && speed < STILL;
  const { frame, buffers } = framed(scene!, x);
  tell({ kind: 'frame', ...frame, seconds, took: (performance.now() - begun) / 1000, still }, buffers);
  return still;
}

/** At the pace of real time, or as fast as this machine steps where that is slower. Halts where nothing moves; a hand sets it going again. */
async function loop(): Promise<void> {
  if (looping) return;
  looping = true;
  try {
    let due = performance.now();
    while (running && motion) {
      if (step()) running = false;
      due = Math.max(due + 1000 * STEP, performance.now() - 1000 * STEP);
      await pause(Math.max(0, due - performance.now()));
    }
  } catch (error) {
    running = false;
    tell({ kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  } finally {
    looping = false;
  }
}

function restart(): void {
  motion = fall(scene!);
  seconds = 0;
}

async function begin({ bag, option, stance, edgeLength }: Extract<Tell, { kind: 'begin' }>): Promise<void> {
  try {
    const begun = performance.now();
    scene = prepareScene(bag, { option, band: 'mid', stance, edgeLength, ...(await dropFor(bag, stance)) });
    restart();
    tell({ kind: 'mesh', ...startOf(scene), seconds: (performance.now() - begun) / 1000 });
    running = true;
    void loop();
  } catch (error) {
    if (error instanceof BagError) tell({ kind: 'faults', faults: error.faults });
    else tell({ kind: 'failed', message: error instanceof Error ? error.message : String(error) });
  }
}

self.onmessage = ({ data }: MessageEvent<Tell>): void => {
  if (data.kind === 'begin') void begin(data);
  if (data.kind === 'begin' || !motion) return;
  switch (data.kind) {
    case 'again':
      restart();
      halted = false;
      running = true;
      break;
    case 'hold':
      motion.hold(data.vertex, data.at);
      running = !halted;
      break;
    default:
      halted = !data.on;
      running = data.on;
      if (data.once) step();
  }
  if (running) void loop();
};
