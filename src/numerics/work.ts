/**
 * Work done in steps: a generator that stops after every Newton step or time step, so that whoever drives it can look up in between (a worker for its
 * messages) and drop it by simply not going on. Its result does not depend on when or how often it is looked up from.
 */
export type Work<T> = Generator<undefined, T, undefined>;

/** Drives work to its end at once. */
export function toEnd<T>(work: Work<T>): T {
  for (;;) {
    const step = work.next();
    if (step.done) return step.value;
  }
}
