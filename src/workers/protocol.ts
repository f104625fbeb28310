import type { Finding } from '../public/pattern.ts';
import type { EarlyNews, Fault, PreviewJob, PreviewProgress, Result } from '../public/slumpline.ts';

/** What a thread is asked: one job at a time. */
export interface Ask {
  readonly id: number;
  readonly job: PreviewJob;
}

/** What a thread says of the job it has. */
export type Say =
  | { readonly id: number; readonly kind: 'progress'; readonly at: PreviewProgress }
  | { readonly id: number; readonly kind: 'word'; readonly news: EarlyNews }
  | { readonly id: number; readonly kind: 'done'; readonly result: Result }
  | { readonly id: number; readonly kind: 'faults'; readonly faults: readonly Fault[]; readonly findings: readonly Finding[] | null }
  | { readonly id: number; readonly kind: 'failed'; readonly message: string; readonly stack: string };

/** A thread as its pool sees it, of a browser or of Node. */
export interface Thread {
  readonly post: (ask: Ask) => void;
  /** Ends it at once, whatever it is at. */ readonly end: () => void;
  /** Should the program stay alive for it? Only Node asks. */ readonly hold: (on: boolean) => void;
}

/** Starts a thread; `died` is told why it cannot go on. */
export type OpenThread = (heard: (say: Say) => void, died: (why: Error) => void) => Thread;
