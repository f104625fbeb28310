import type { Io } from './io.ts';

/** Told the stage in words and how far the work has come, 0..1; of several pieces of work at once, which one speaks: stages that take turns are not new each time. */
export interface Meter {
  readonly tell: (stage: string, fraction: number, lane?: string) => void;
  /** Wipes the running line, so that what follows starts clean. */ readonly done: () => void;
}

/**
 * Progress on stderr. On a terminal one line is written over, at most ten times a second; elsewhere a line for every new stage,
 * so that a log stays readable. quiet: nothing.
 */
export function createMeter(io: Io, quiet: boolean): Meter {
  const last = new Map<string, string>();
  let at = Number.NEGATIVE_INFINITY;
  let open = false;
  // Stages overlap a little in their estimates; a bar that runs backwards would only worry people.
  let furthest = 0;
  const tell = (stage: string, fraction: number, lane = ''): void => {
    if (quiet) return;
    furthest = Math.max(furthest, Math.min(1, Number.isFinite(fraction) ? fraction : 0));
    const newStage = stage !== last.get(lane);
    if (!io.errIsTerminal) {
      if (newStage) io.err(`${percent(furthest)}  ${stage}\n`);
      last.set(lane, stage);
      return;
    }
    if (!newStage && io.now() - at < 100) return;
    at = io.now();
    last.set(lane, stage);
    open = true;
    io.err(`\r${percent(furthest)}  ${stage.slice(0, 68)}\u001b[K`);
  };
  const done = (): void => {
    if (open) io.err('\r\u001b[K');
    open = false;
  };
  return { tell, done };
}

const percent = (fraction: number): string => `${Math.floor(fraction * 100)} %`.padStart(5);
